"""Real roots of polynomials up to the third degree, for creases that move two points at once.

In: coefficients, highest power first, in sheet units. Out: roots in ascending order. Leading
coefficients may vanish; roots further than `FAR` from the sheet are of no use to a fold and are
left out.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

Cubic = tuple[float, float, float, float]

#: Roots beyond this are dropped (sheet units).
FAR = 1e6


def value(cubic: Cubic, t: float) -> float:
    """The cubic at t."""
    a, b, c, d = cubic
    return ((a * t + b) * t + c) * t + d


def slope(cubic: Cubic, t: float) -> float:
    """The cubic's derivative at t."""
    a, b, c, _ = cubic
    return (3 * a * t + 2 * b) * t + c


def real_roots(cubic: Cubic, slack: Callable[[float], float]) -> list[float]:
    """Distinct real roots within `FAR`, ascending.

    Where the curve turns closer to zero than `slack(t)`, the turning point stands for the double
    root (exact, or split or lifted off the axis by rounding).
    """
    turns = _turning_points(cubic)
    touching = [t for t in turns if abs(value(cubic, t)) <= slack(t)]
    if len(touching) == 2:  # both at once: a root of three, flat as far as can be told
        turns, touching = [], []
    stops = [-FAR, *turns, FAR]
    roots = list(touching)
    for lo, hi in pairwise(stops):
        if lo in touching or hi in touching:
            continue
        if (value(cubic, lo) > 0) != (value(cubic, hi) > 0):
            roots.append(_bracketed(cubic, lo, hi))
    return sorted(roots)


def _turning_points(cubic: Cubic) -> list[float]:
    """Where the derivative changes sign, within `FAR`."""
    a, b, c, _ = cubic
    disc = b * b - 3 * a * c
    if disc <= 0:
        return []
    q = -(b + math.copysign(math.sqrt(disc), b))
    pairs = ((q, 3 * a), (c, q))
    return sorted(num / den for num, den in pairs if abs(num) < FAR * abs(den))


def _bracketed(cubic: Cubic, lo: float, hi: float) -> float:
    """The one root between two places of opposite sign: Newton, kept inside by halving."""
    rising = value(cubic, hi) > 0
    t = (lo + hi) / 2
    for _ in range(200):
        y = value(cubic, t)
        if (y > 0) == rising:
            hi = t
        else:
            lo = t
        steep = slope(cubic, t)
        step = (lo + hi) / 2
        if abs(steep) * (hi - lo) > abs(y):
            newton = t - y / steep
            if lo < newton < hi:
                step = newton
        if abs(step - t) <= 4e-16 * max(1.0, abs(t)) or hi - lo <= 4e-16 * max(1.0, abs(t)):
            return step
        t = step
    return t


def least_ratio(quadratic: tuple[float, float, float], hh: float) -> float:
    """Least |a t^2 + b t + c| / (t^2 + hh) over all t, for a quadratic without real roots; hh > 0."""
    a, b, c = quadratic
    # the extremes k are those for which (a - k) t^2 + b t + (c - k hh) has a double root
    mean = (a + c / hh) / 2
    spread = math.sqrt(max(0.0, mean * mean - (4 * a * c - b * b) / (4 * hh)))
    return max(0.0, abs(mean) - spread)
