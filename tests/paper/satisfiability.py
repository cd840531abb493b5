"""The layer conditions as clauses for a general solver, to compare with the package's own.

Every triple of facets with common area is written out here; the package's solver finds rings without.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from pysat.solvers import Solver as Sat

from foldscript.geometry.polygons import Polygon, intersection, overlap
from foldscript.paper.conditions import Conditions, Pair

Clauses = list[list[int]]


def triples(placed: Sequence[Polygon], pairs: Sequence[Pair]) -> Iterator[tuple[int, int, int]]:
    """Every i < j < k whose facets share some area."""
    later: list[set[int]] = [set() for _ in placed]
    for i, j in pairs:
        later[i].add(j)
    for i, j in pairs:
        third = sorted(later[i] & later[j])
        common = intersection(placed[i], placed[j]) if third else ()
        for k in third:
            if common and overlap(common, placed[k]):
                yield i, j, k


def clauses(
    pairs: Sequence[Pair],
    known: Mapping[Pair, bool],
    conditions: Conditions,
    rings: Iterator[tuple[int, int, int]],
) -> Clauses:
    """Clauses in which variable k + 1 says that pair k's first facet lies above its second."""
    number = {pair: k + 1 for k, pair in enumerate(pairs)}

    def lit(x: int, y: int) -> int:
        return number[x, y] if x < y else -number[y, x]

    def has(x: int, y: int) -> bool:
        return ((x, y) if x < y else (y, x)) in number

    out: Clauses = [[lit(i, j) if above else -lit(i, j)] for (i, j), above in known.items()]
    for same in conditions.same:
        if has(same.x, same.y) and has(same.u, same.v):
            one, two = lit(same.x, same.y), lit(same.u, same.v)
            out += [[one, -two], [-one, two]]
    for nest in conditions.nested:
        four = [lit(x, y) for x in (nest.a, nest.b) for y in (nest.c, nest.d)]
        for bits in range(16):
            if bits.bit_count() % 2:
                out.append([-v if bits >> k & 1 else v for k, v in enumerate(four)])
    for i, j, k in rings:
        one, two, three = lit(i, j), lit(j, k), lit(k, i)
        out += [[one, two, three], [-one, -two, -three]]
    return out


def satisfiable(found: Clauses) -> bool:
    """Whether some assignment fits all clauses."""
    with Sat(name="glucose4", bootstrap_with=found) as sat:
        return bool(sat.solve())


def count_models(found: Clauses, variables: int) -> int:
    """How many assignments of variables 1, 2, ... fit all clauses."""
    found = [*found, *([k, -k] for k in range(1, variables + 1))]
    with Sat(name="glucose4", bootstrap_with=found) as sat:
        return sum(1 for _ in sat.enum_models() or ())
