"""How deep each piece of a pile lies: chains of what lies over each other, counted.

In: for each piece, the pieces right over it or anywhere above it, and those below. Out: the length of the
longest chain over each. Pieces that lie over each other in a ring (as four flaps tucked under each other
do) are as deep as each other. Nothing follows from the order in which pieces are kept.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence


def chains(
    over: Sequence[Collection[int]], under: Sequence[Iterable[int]]
) -> tuple[list[int], bool]:
    """For each piece, how many lie over it at most, one over the other; and whether some lie in a ring."""
    length = [0] * len(over)
    waits = [len(some) for some in over]
    ready = [k for k, n in enumerate(waits) if n == 0]
    placed = set(ready)
    ringed = False
    done = 0
    while True:
        while done < len(ready):
            k = ready[done]
            done += 1
            deeper = length[k] + 1
            for m in under[k]:
                if m in placed:
                    continue  # the next of a ring
                if length[m] < deeper:
                    length[m] = deeper
                waits[m] -= 1
                if not waits[m]:
                    ready.append(m)
                    placed.add(m)
        if done == len(over):
            return length, ringed
        ringed = True
        for ring in _first_rings(over, set(range(len(over))) - placed):
            deep = max(length[k] for k in ring)
            for k in ring:
                length[k] = deep
            ready.extend(sorted(ring))
            placed |= ring


def _first_rings(over: Sequence[Collection[int]], left: set[int]) -> list[frozenset[int]]:
    """The rings over which nothing else lies of what is left, in which each piece lies under another."""
    above: dict[int, set[int]] = {}
    for k in left:
        found = {m for m in over[k] if m in left}
        queue = list(found)
        for m in queue:
            more = {n for n in over[m] if n in left} - found
            found |= more
            queue.extend(more)
        above[k] = found
    return list(
        dict.fromkeys(
            frozenset(some) for some in above.values() if all(above[m] == some for m in some)
        )
    )
