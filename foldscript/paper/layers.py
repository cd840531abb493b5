"""Layer order: the solver. Propagation first, then a search in a fixed order that learns.

In: overlapping pairs, the orders that are known, the conditions on them. Out: one order (the one
nearest to what the planner prefers), or every order, or a `Collision` that names the layers.

Pairs whose orders are the same by the conditions are united into one unknown. A **literal** is twice
an unknown's number, plus one for its opposite; `Solver` turns facets and conditions into literals, and
`foldscript.paper.search` finds values for them. Rings are never written down: when 'i above j' becomes
known, sets of facets kept as bits tell at once which third facets it says something about, and only
for those is it worked out whether the three share some area.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from ..geometry.lines import Point
from ..geometry.polygons import Polygon
from .conditions import Conditions, Nested, Pair
from .overlaps import Overlaps
from .search import Clash, OutOfWork, Search
from .union_find import UnionFind

#: Orders of two layers set, for good or on trial, after which the search gives up and says so: about
#: ten seconds.
WORK_LIMIT = 5_000_000

#: (i, j) -> whether facet i should lie above facet j where the conditions leave it open: a soft
#: constraint, which the search tries first; None for no preference.
Prefer = Callable[[int, int], bool | None]


class Collision(Exception):
    """No layer order: these facets would have to pass through each other.

    `reason` is 'pierced', 'interleaved', 'ring', 'joint' or 'search'; `at` a folded point or None.
    `spots` tell parts of one facet apart: a folded point in every part, where the paper lay before.
    """

    def __init__(
        self,
        reason: str,
        facets: tuple[int, ...],
        at: Point | None = None,
        spots: tuple[Point, ...] = (),
    ) -> None:
        super().__init__(reason)
        self.reason = reason
        self.facets = facets
        self.at = at
        self.spots = spots


class Undecided(Exception):
    """Several layer orders are as good: in another one each of these pairs of facets lies otherwise."""

    def __init__(self, pairs: Sequence[Pair]) -> None:
        super().__init__("undecided")
        self.pairs = tuple(pairs)


class Solver:
    """Unknown orders of one arrangement, with everything that follows from the known ones.

    Parameters
    ----------
    placed : facets in folded coordinates
    pairs : every pair i < j whose facets overlap
    known : orders given: (i, j) -> whether i lies above j
    conditions : what `conditions` found; rings are found here
    overlaps : what is known of the same facets already

    Raises
    ------
    Collision : when what is known breaks a condition already
    """

    def __init__(
        self,
        placed: Sequence[Polygon],
        pairs: Sequence[Pair],
        known: Mapping[Pair, bool],
        conditions: Conditions,
        overlaps: Overlaps | None = None,
    ) -> None:
        self.pairs = list(pairs)
        self._overlaps = overlaps or Overlaps(placed)
        self._literal = self._unite(conditions, len(placed))
        self._nested: list[Nested] = []
        parities: list[tuple[int, ...]] = []
        for nest in conditions.nested:
            if not all(y in self._literal[x] for x in (nest.a, nest.b) for y in (nest.c, nest.d)):
                continue  # slivers: they touch along the fold and yet share no area
            lits = _reduced(
                [self._literal[x][y] for x in (nest.a, nest.b) for y in (nest.c, nest.d)]
            )
            if lits is None:
                raise Collision("interleaved", (nest.a, nest.b, nest.c, nest.d), nest.at)
            if lits:
                self._nested.append(nest)
                parities.append(lits)
        self._search = Search(self._literal, self._overlaps.triple, parities)
        value = self._search.value
        for (i, j), above in known.items():
            given = self._literal[i][j] ^ (not above)
            if value[given] is False:
                raise Collision("pierced", (i, j), self._overlaps.spot(i, j))
            if value[given] is None:
                self._search.assume(given)
        clash = self._search.start()
        if clash is not None:
            raise self._collision(clash)

    def _unite(self, conditions: Conditions, count: int) -> list[dict[int, int]]:
        """literal[i][j] for 'i lies above j', equal orders united under their first pair."""
        literal: list[dict[int, int]] = [{} for _ in range(count)]
        for k, (i, j) in enumerate(self.pairs):
            literal[i][j], literal[j][i] = 2 * k, 2 * k + 1
        equal = UnionFind(2 * len(self.pairs))
        for same in conditions.same:
            one, two = literal[same.x].get(same.y), literal[same.u].get(same.v)
            if one is None or two is None:
                continue
            if equal.find(one) ^ 1 == equal.find(two):
                facets = tuple(dict.fromkeys((same.x, same.y, same.u, same.v)))
                raise Collision(same.reason, facets, same.at)
            equal.unite(one, two)
            equal.unite(one ^ 1, two ^ 1)
        roots = [equal.find(lit) for lit in range(2 * len(self.pairs))]
        dense = {lit: k for k, lit in enumerate(sorted({r & ~1 for r in roots}))}
        final = [2 * dense[top & ~1] + (top & 1) for top in roots]
        return [{j: final[lit] for j, lit in row.items()} for row in literal]

    def _collision(self, clash: Clash) -> Collision:
        if clash.ring:
            return Collision("ring", clash.ring, self._overlaps.spot(*clash.ring[:2]))
        if clash.parity is not None:
            nest = self._nested[clash.parity]
            return Collision("interleaved", (nest.a, nest.b, nest.c, nest.d), nest.at)
        return Collision("search", self._search.facets(clash.literals))

    def orders(
        self,
        prefer: Prefer | None = None,
        work_limit: int = WORK_LIMIT,
    ) -> Iterator[dict[Pair, bool]]:
        """Every order that meets the conditions, preferred ones first, deterministically.

        Parameters
        ----------
        prefer : (i, j) -> whether i should lie above j, None for no preference; pairs with one
            are decided first, in the order of `pairs`

        Raises OutOfWork when the search sets more than `work_limit` orders of two layers.
        """
        wished, left = self._decisions(prefer)
        for value in self._search.solutions([*wished, *left], work_limit):
            yield {(i, j): bool(value[self._literal[i][j]]) for i, j in self.pairs}

    def _decisions(self, prefer: Prefer | None) -> tuple[list[int], list[int]]:
        """A literal for each open unknown: those that are preferred, and for the rest the first named."""
        self._search.restart()
        settled = self._search.value
        left = [(i, j) for i, j in self.pairs if settled[self._literal[i][j]] is None]
        wished: dict[int, int] = {}  # unknown -> literal to try first
        for i, j in left if prefer is not None else ():
            above = prefer(i, j) if prefer is not None else None
            if above is not None:
                lit = self._literal[i][j]
                wished.setdefault(lit >> 1, lit ^ (not above))
        others: dict[int, int] = {}
        for i, j in left:
            lit = self._literal[i][j]
            if lit >> 1 not in wished:
                others.setdefault(lit >> 1, lit)
        return list(wished.values()), list(others.values())

    def undecided(self, prefer: Prefer | None, order: Mapping[Pair, bool]) -> list[Pair]:
        """Pairs that lie otherwise in an order that is as good as the one that `solve` gave.

        Empty when what is preferred decides everything: then the numbering of the facets has no say.
        Where no pair is preferred against another, the first open one that could lie either way does so
        when every other value is tried first; where wishes are at odds, one that was given up can be met.
        """
        wished, left = self._decisions(prefer)
        given_up = [lit for lit in wished if not self._holds(lit, order)]
        trials: list[tuple[list[int], int | None]] = []  # decisions, and what they must bring about
        if left:
            trials.append(([*wished, *(lit ^ 1 for lit in left)], None))
        trials += [([lit, *(w for w in wished if w != lit), *left], lit) for lit in given_up]
        for decisions, aim in trials:
            value = next(self._search.solutions(decisions, WORK_LIMIT), None)
            if value is None or (aim is not None and not value[aim]):
                continue
            other = [(i, j) for i, j in self.pairs if value[self._literal[i][j]] != order[i, j]]
            if other:
                return other
        return []

    def _holds(self, lit: int, order: Mapping[Pair, bool]) -> bool:
        i, j = self._search.facets((lit,))
        return order[i, j] if i < j else not order[j, i]

    def solve(self, prefer: Prefer | None = None) -> dict[Pair, bool]:
        """The first order of `orders`; Collision when there is none."""
        for order in self.orders(prefer):
            return order
        clash = self._search.last_clash
        facets = self._collision(clash).facets if clash is not None else ()
        raise Collision("search", facets)


def _reduced(lits: Sequence[int]) -> tuple[int, ...] | None:
    """The same parity over different unknowns; () when it holds always, None when it never does."""
    odd = False
    kept: dict[int, int] = {}
    for lit in lits:
        if lit >> 1 in kept:
            odd ^= kept.pop(lit >> 1) != lit
        else:
            kept[lit >> 1] = lit
    if not kept:
        return None if odd else ()
    first, *rest = kept.values()
    return (first ^ odd, *rest)


__all__ = ["WORK_LIMIT", "Collision", "OutOfWork", "Prefer", "Solver", "Undecided"]
