"""Search for layer orders: values for unknowns under rings and parities, with learning.

In: for each two overlapping facets a literal that says which lies above; which triples share area;
parities (literals of different unknowns, of which an even number is true). Out: every assignment, in
a fixed order.

A literal is 2 * unknown, plus one for its opposite. Decisions are taken in the order given, each with
the preferred value; what follows is drawn at once. When that breaks a condition, the decisions to
blame are worked out (first unique implication point; J. Marques-Silva and K. Sakallah, 1999), kept
as a combination never to be tried again, and the search goes back to where it matters. After a
solution the last decision is turned round and never gone back behind, so each solution comes once.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

Triple = Callable[[int, int, int], bool]


class OutOfWork(Exception):
    """The search has set more orders than it was allowed."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Literals that are all true and must not be, and the condition that says so.

    `ring` holds the facets of a ring, `parity` the number of a broken parity; neither is set for a
    combination learnt on the way.
    """

    literals: tuple[int, ...]
    ring: tuple[int, ...] = ()
    parity: int | None = None


class Search:
    """Values of the unknowns. `value[literal]` is True, False or None."""

    def __init__(
        self,
        literal: Sequence[dict[int, int]],
        triple: Triple,
        parities: Sequence[tuple[int, ...]],
    ) -> None:
        self._literal = literal
        self._triple = triple
        self._parities = parities
        size = 2 * (1 + max((max(row.values(), default=-1) >> 1 for row in literal), default=-1))
        self.value: list[bool | None] = [None] * size
        # what each literal says: (upper facet, lower facet) pairs
        self._says: list[list[tuple[int, int]]] = [[] for _ in range(size)]
        self._near = [0] * len(literal)  # facets that overlap each facet
        for i, row in enumerate(literal):
            for j, lit in row.items():
                self._says[lit].append((i, j))
                self._near[i] |= 1 << j
        self._below = [0] * len(literal)
        self._above = [0] * len(literal)
        self._in_parities: dict[int, list[int]] = {}
        for k, lits in enumerate(parities):
            for lit in lits:
                self._in_parities.setdefault(lit >> 1, []).append(k)
        # learnt combinations, each watched by its first two literals
        self._watched: defaultdict[int, list[list[int]]] = defaultdict(list)
        self._trail: list[int] = []
        self._done = 0  # how much of the trail has been propagated
        self._level = [0] * (size // 2)
        self._reason: list[tuple[int, ...]] = [()] * (size // 2)
        self._marks: list[int] = []  # length of the trail before each decision
        self._work = 0  # orders set so far
        self.last_clash: Clash | None = None

    def facets(self, lits: Sequence[int]) -> tuple[int, ...]:
        """Facets that literals speak of, one pair for each."""
        return tuple(dict.fromkeys(facet for lit in lits for facet in self._says[lit][0]))

    # -- values

    def assume(self, lit: int) -> None:
        """Takes a literal, open until now, as true for good."""
        self._set(lit, ())

    def start(self) -> Clash | None:
        """Draws all conclusions from what is assumed; the broken condition, if there is one."""
        for k, lits in enumerate(self._parities):
            clash = self._check_parity(k, lits)
            if clash is not None:
                return clash
        return self._propagate()

    def _set(self, lit: int, reason: tuple[int, ...]) -> None:
        self.value[lit] = True
        self.value[lit ^ 1] = False
        self._level[lit >> 1] = len(self._marks)
        self._reason[lit >> 1] = reason
        self._trail.append(lit)
        says = self._says[lit]
        self._work += 1 + len(says)
        below, above = self._below, self._above
        for i, j in says:
            below[i] |= 1 << j
            above[j] |= 1 << i

    def _undo(self, level: int) -> None:
        """Goes back to where only so many decisions stood."""
        mark = self._marks[level]
        del self._marks[level:]
        below, above, value = self._below, self._above, self.value
        for lit in self._trail[mark:]:
            value[lit] = value[lit ^ 1] = None
            for i, j in self._says[lit]:
                below[i] ^= 1 << j
                above[j] ^= 1 << i
        del self._trail[mark:]
        self._done = min(self._done, mark)

    # -- conclusions

    def _propagate(self) -> Clash | None:
        while self._done < len(self._trail):
            lit = self._trail[self._done]
            self._done += 1
            for i, j in self._says[lit]:
                clash = self._rings(lit, i, j)
                if clash is not None:
                    return clash
            for k in self._in_parities.get(lit >> 1, ()):
                clash = self._check_parity(k, self._parities[k])
                if clash is not None:
                    return clash
            if lit in self._watched:
                clash = self._recall(lit)
                if clash is not None:
                    return clash
        return None

    def _rings(self, lit: int, i: int, j: int) -> Clash | None:
        """What 'i above j' says about third facets that share some area with both."""
        literal, value, triple = self._literal, self.value, self._triple
        # whatever lies below j lies below i
        third = self._below[j] & self._near[i] & ~self._below[i]
        while third:
            bit = third & -third
            third ^= bit
            k = bit.bit_length() - 1
            if triple(i, j, k):
                follows = literal[i][k]
                why = (lit, literal[j][k])
                if value[follows] is None:
                    self._set(follows, why)
                elif value[follows] is False:
                    return Clash((*why, follows ^ 1), ring=(i, j, k))
        # whatever lies above i lies above j
        third = self._above[i] & self._near[j] & ~self._above[j]
        while third:
            bit = third & -third
            third ^= bit
            k = bit.bit_length() - 1
            if triple(i, j, k):
                follows = literal[k][j]
                why = (lit, literal[k][i])
                if value[follows] is None:
                    self._set(follows, why)
                elif value[follows] is False:
                    return Clash((*why, follows ^ 1), ring=(k, i, j))
        return None

    def _check_parity(self, k: int, lits: tuple[int, ...]) -> Clash | None:
        value = self.value
        open_lit = -1
        odd = False
        for lit in lits:
            v = value[lit]
            if v:
                odd = not odd
            elif v is None:
                if open_lit >= 0:
                    return None
                open_lit = lit
        if open_lit >= 0:
            true_ones = tuple(lit if value[lit] else lit ^ 1 for lit in lits if lit != open_lit)
            self._set(open_lit if odd else open_lit ^ 1, true_ones)
        elif odd:
            return Clash(tuple(lit if value[lit] else lit ^ 1 for lit in lits), parity=k)
        return None

    def _recall(self, lit: int) -> Clash | None:
        """Learnt combinations that the literal is watched in: one more true, the last must not be."""
        value = self.value
        watching = self._watched[lit]
        kept: list[list[int]] = []
        for n, bad in enumerate(watching):
            if bad[0] == lit:
                bad[0], bad[1] = bad[1], bad[0]
            if value[bad[0]] is not False:
                for m in range(2, len(bad)):
                    if value[bad[m]] is not True:
                        bad[1], bad[m] = bad[m], bad[1]
                        self._watched[bad[1]].append(bad)
                        break
                else:
                    kept.append(bad)
                    if value[bad[0]]:
                        self._watched[lit] = kept + watching[n + 1 :]
                        return Clash(tuple(bad))
                    self._set(bad[0] ^ 1, tuple(bad[1:]))
            else:
                kept.append(bad)
        self._watched[lit] = kept
        return None

    # -- search

    def restart(self) -> None:
        """Takes back every decision; `solutions` of which only the first was read may begin anew."""
        if self._marks:
            self._undo(0)

    def solutions(self, preferred: Sequence[int], work_limit: int) -> Iterator[list[bool | None]]:
        """Every assignment, as the list of values, to be read before the next one is asked for.

        Parameters
        ----------
        preferred : a literal for every open unknown, in the order of decisions, with the value to try first
        work_limit : orders set, for good or on trial, after which to raise OutOfWork
        """
        limit = self._work + work_limit
        at = [0]  # where in `preferred` the decision of each level was looked for
        floor = 0  # levels up to here have seen a solution or are used up on one side
        clash: Clash | None = None
        while True:
            if self._work > limit:
                raise OutOfWork
            if clash is not None:
                self.last_clash = clash
                if len(self._marks) > floor:
                    clash = self._learn(clash, floor)
                    del at[len(self._marks) + 1 :]
                    continue
                turn = floor
            else:
                place = at[-1]
                while place < len(preferred) and self.value[preferred[place]] is not None:
                    place += 1
                if place < len(preferred):
                    at[-1] = place
                    at.append(place)
                    self._marks.append(len(self._trail))
                    self._set(preferred[place], ())
                    clash = self._propagate()
                    continue
                yield self.value
                turn = len(self._marks)
            if turn == 0:
                return
            decision = self._decision(turn)
            floor = turn - 1
            self._undo(floor)
            del at[floor + 1 :]
            self._set(decision ^ 1, ())
            clash = self._propagate()

    def _decision(self, level: int) -> int:
        return self._trail[self._marks[level - 1]]

    def _learn(self, clash: Clash, floor: int) -> Clash | None:
        """Works out which combination is to blame, goes back, and draws what follows from it."""
        now = len(self._marks)
        seen: set[int] = set()
        blamed: list[int] = []
        count = 0
        place = len(self._trail) - 1
        lits: Sequence[int] = clash.literals
        while True:
            for lit in lits:
                unknown = lit >> 1
                if unknown not in seen and self._level[unknown]:
                    seen.add(unknown)
                    if self._level[unknown] == now:
                        count += 1
                    else:
                        blamed.append(lit)
            while self._trail[place] >> 1 not in seen:
                place -= 1
            last = self._trail[place]
            place -= 1
            count -= 1
            if count == 0:
                break
            lits = self._reason[last >> 1]
        blamed.sort(key=lambda lit: -self._level[lit >> 1])
        back = self._level[blamed[0] >> 1] if blamed else 0
        self._undo(max(back, floor))
        if blamed:
            bad = [last, *blamed]
            self._watched[bad[0]].append(bad)
            self._watched[bad[1]].append(bad)
        self._set(last ^ 1, tuple(blamed))
        return self._propagate()
