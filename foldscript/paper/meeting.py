"""Whether a layer order that is known in full meets all conditions: nothing is to be searched for then.

In: an order, which of its pairs are new, the conditions. Out: yes or no; what is broken, and by which
layers, the solver tells (`layers`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .conditions import Conditions, Pair, bits
from .overlaps import Overlaps


def meets(
    order: Mapping[Pair, bool], fresh: Sequence[Pair], conditions: Conditions, overlaps: Overlaps
) -> bool:
    """Whether an order of all pairs meets the conditions, and no ring runs through a fresh pair.

    Rings among other pairs are not looked for: those pairs are as they were.
    """
    value = dict(order)
    value.update({(j, i): not above for (i, j), above in order.items()})
    for same in conditions.same:
        one, two = value.get((same.x, same.y)), value.get((same.u, same.v))
        if one is not two and one is not None and two is not None:
            return False
    for nest in conditions.nested:
        sides = [value.get((x, y)) for x in (nest.a, nest.b) for y in (nest.c, nest.d)]
        if None not in sides and sides.count(True) % 2:
            return False
    count = len(overlaps.shape)
    below, above = [0] * count, [0] * count
    for (i, j), over in order.items():
        upper, lower = (i, j) if over else (j, i)
        below[upper] |= 1 << lower
        above[lower] |= 1 << upper
    for i, j in fresh:
        upper, lower = (i, j) if order[i, j] else (j, i)
        for third in bits(below[lower] & above[upper]):
            if overlaps.triple(i, j, third):
                return False
    return True
