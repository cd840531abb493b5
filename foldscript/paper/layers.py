"""Layer order: the solver. Propagation first, then a search in a fixed order.

In: overlapping pairs, the orders that are known, the conditions on them. Out: one order (the one
nearest to what the planner prefers), or every order, or a `Collision` that names the layers.

Equalities are united first (each class is one unknown, with a sign), so that what remains are rings
(three unknowns, not all alike) and interleaved folds (four unknowns of even parity).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from ..geometry.lines import Point
from ..geometry.polygons import Polygon, centroid, intersection, overlap
from .conditions import Conditions, Pair

#: Search steps after which the solver gives up and says so.
WORK_LIMIT = 200_000

Prefer = Callable[[int, int], bool | None]


class Collision(Exception):
    """No layer order: these facets would have to pass through each other.

    `reason` is 'pierced', 'interleaved', 'ring', 'joint' or 'search'; `at` a folded point or None.
    """

    def __init__(self, reason: str, facets: tuple[int, ...], at: Point | None = None) -> None:
        super().__init__(reason)
        self.reason = reason
        self.facets = facets
        self.at = at


class OutOfWork(Exception):
    """The search took more steps than `WORK_LIMIT` allows."""


class Solver:
    """Unknown orders of one arrangement, with everything that follows from the known ones."""

    def __init__(
        self,
        placed: Sequence[Polygon],
        pairs: Sequence[Pair],
        known: Mapping[Pair, bool],
        conditions: Conditions,
        fresh: frozenset[Pair] | set[Pair] | None = None,
    ) -> None:
        self.pairs = list(pairs)
        self._index = {pair: k for k, pair in enumerate(self.pairs)}
        self._placed = placed
        self._parent = list(range(len(self.pairs)))
        self._parity = [0] * len(self.pairs)
        self._value: list[int | None] = [None] * len(self.pairs)
        self._watch: list[list[int]] = [[] for _ in self.pairs]
        # constraints: (kind, [(root, parity), ...], facets, point)
        self._constraints: list[
            tuple[str, tuple[tuple[int, int], ...], tuple[int, ...], Point | None]
        ]
        self._constraints = []
        self._trail: list[int] = []
        for same in conditions.same:
            self._unite(same.x, same.y, same.u, same.v, same.reason, same.at)
        for pair, above in known.items():
            self._assume(pair, above)
        for nest in conditions.nested:
            self._add(
                "interleaved",
                [(nest.a, nest.c), (nest.a, nest.d), (nest.b, nest.c), (nest.b, nest.d)],
                (nest.a, nest.b, nest.c, nest.d),
                nest.at,
            )
        self._propagate_all()
        self._add_rings(fresh)
        self._propagate_all()

    # -- building

    def _literal(self, x: int, y: int) -> tuple[int, int]:
        """(root, parity): 'x above y' is the root's value exclusive-or the parity."""
        k, flip = (self._index[x, y], 0) if x < y else (self._index[y, x], 1)
        root, parity = self._find(k)
        return root, parity ^ flip

    def _find(self, k: int) -> tuple[int, int]:
        parity = 0
        path: list[int] = []
        while self._parent[k] != k:
            path.append(k)
            parity ^= self._parity[k]
            k = self._parent[k]
        total = parity
        for node in path:
            own = self._parity[node]
            self._parent[node], self._parity[node] = k, total
            total ^= own
        return k, parity

    def _unite(self, x: int, y: int, u: int, v: int, reason: str, at: Point) -> None:
        if not (self._has(x, y) and self._has(u, v)):
            return
        (a, pa), (b, pb) = self._literal(x, y), self._literal(u, v)
        if a == b:
            if pa != pb:
                raise Collision(reason, tuple(dict.fromkeys((x, y, u, v))), at)
            return
        a, b = min(a, b), max(a, b)
        self._parent[b], self._parity[b] = a, pa ^ pb

    def _has(self, x: int, y: int) -> bool:
        return ((x, y) if x < y else (y, x)) in self._index

    def _assume(self, pair: Pair, above: bool) -> None:
        root, parity = self._literal(*pair)
        value = int(above) ^ parity
        if self._value[root] is None:
            self._value[root] = value
        elif self._value[root] != value:
            raise Collision("pierced", pair, centroid(self._placed[pair[0]]))

    def _add(self, kind: str, terms: list[Pair], facets: tuple[int, ...], at: Point | None) -> None:
        literals = tuple(self._literal(x, y) for x, y in terms)
        k = len(self._constraints)
        self._constraints.append((kind, literals, facets, at))
        for root, _ in literals:
            if self._value[root] is None:
                self._watch[root].append(k)

    def _add_rings(self, fresh: frozenset[Pair] | set[Pair] | None) -> None:
        around: dict[int, set[int]] = {}
        for i, j in self.pairs:
            around.setdefault(i, set()).add(j)
            around.setdefault(j, set()).add(i)
        seen: set[tuple[int, int, int]] = set()
        for pair in self.pairs if fresh is None else sorted(fresh):
            if pair not in self._index:
                continue
            i, j = pair
            common: Polygon | None = None
            for k in sorted(around[i] & around[j]):
                x, y, z = sorted((i, j, k))
                if (x, y, z) in seen:
                    continue
                seen.add((x, y, z))
                literals = (self._literal(x, y), self._literal(y, z), self._literal(z, x))
                values = [
                    None if self._value[r] is None else self._value[r] ^ p  # type: ignore[operator]
                    for r, p in literals
                ]
                if 0 in values and 1 in values:
                    continue
                if common is None:
                    common = intersection(self._placed[i], self._placed[j])
                if not common or not overlap(common, self._placed[k]):
                    continue
                self._add("ring", [(x, y), (y, z), (z, x)], (x, y, z), centroid(common))

    # -- propagation

    def _propagate_all(self) -> None:
        bad = self._propagate(range(len(self._constraints)))
        if bad is not None:
            kind, _, facets, at = self._constraints[bad]
            raise Collision(kind, facets, at)
        self._trail.clear()

    def _propagate(self, queue: Sequence[int] | range) -> int | None:
        """Draws conclusions; index of a broken constraint, or None. New values go on the trail."""
        value, trail = self._value, self._trail
        todo = list(queue)
        while todo:
            k = todo.pop()
            kind, literals, _, _ = self._constraints[k]
            open_root = -1
            open_parity = 0
            unknown = zeros = ones = 0
            for root, parity in literals:
                v = value[root]
                if v is None:
                    unknown += 1
                    open_root, open_parity = root, parity
                elif v ^ parity:
                    ones += 1
                else:
                    zeros += 1
            if kind == "ring":
                if unknown == 0:
                    if not zeros or not ones:
                        return k
                    continue
                if unknown != 1 or (zeros and ones):
                    continue
                forced = 0 if ones else 1
            else:
                if unknown == 0:
                    if ones & 1:
                        return k
                    continue
                if unknown != 1:
                    continue
                forced = ones & 1
            value[open_root] = forced ^ open_parity
            trail.append(open_root)
            todo.extend(self._watch[open_root])
        return None

    # -- search

    def orders(
        self, prefer: Prefer | None = None, work_limit: int = WORK_LIMIT
    ) -> Iterator[dict[Pair, bool]]:
        """Every order that meets the conditions, preferred ones first, deterministically.

        Raises OutOfWork when the search takes more than `work_limit` decisions.
        """
        free: list[tuple[int, int]] = []
        listed: set[int] = set()
        for pair in self.pairs:
            root, parity = self._find(self._index[pair])
            if self._value[root] is not None or root in listed:
                continue
            wish = prefer(*pair) if prefer is not None else None
            if prefer is not None and wish is None:
                continue
            listed.add(root)
            free.append((root, int(bool(wish)) ^ parity))
        for pair in self.pairs:
            root, parity = self._find(self._index[pair])
            if self._value[root] is None and root not in listed:
                listed.add(root)
                free.append((root, 1 ^ parity))
        steps = 0
        # frames: (position in free, trail length before, values still to try)
        stack: list[tuple[int, int, list[int]]] = []
        at = 0
        while True:
            while at < len(free) and self._value[free[at][0]] is not None:
                at += 1
            if at == len(free):
                yield self._solution()
            else:
                first = free[at][1]
                stack.append((at, len(self._trail), [1 - first, first]))
            while stack:
                position, mark, choices = stack[-1]
                self._undo(mark)
                if not choices:
                    stack.pop()
                    continue
                steps += 1
                if steps > work_limit:
                    raise OutOfWork
                root = free[position][0]
                self._value[root] = choices.pop()
                self._trail.append(root)
                if self._propagate(self._watch[root]) is None:
                    at = position + 1
                    break
            else:
                return

    def _undo(self, mark: int) -> None:
        while len(self._trail) > mark:
            self._value[self._trail.pop()] = None

    def _solution(self) -> dict[Pair, bool]:
        out: dict[Pair, bool] = {}
        for pair in self.pairs:
            root, parity = self._find(self._index[pair])
            out[pair] = bool((self._value[root] or 0) ^ parity)
        return out

    def solve(self, prefer: Prefer | None = None) -> dict[Pair, bool]:
        """The first order of `orders`; Collision when there is none."""
        for order in self.orders(prefer):
            return order
        facets = next(
            (
                f
                for _, lits, f, _ in self._constraints
                if any(self._value[r] is None for r, _ in lits)
            ),
            (),
        )
        raise Collision("search", facets)
