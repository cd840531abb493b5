"""How amounts are told in what is wrong with a pose: plain numbers, never powers of ten.

In: lengths in mm, shares, amounts of goals. Out: words.
"""

from __future__ import annotations

import math

#: Lengths (mm) below this are told as less than this; from this on in whole millimetres.
_LEAST, _WHOLE = 0.01, 10.0
#: From what share on paper is told to be pulled to pieces, rather than to be stretched.
_TORN = 0.5


def plain(value: float, digits: int = 2) -> str:
    """A number with so many digits that count, as it is written by hand."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def millimetres(mm: float) -> str:
    """'0.35 mm', '12 mm', 'less than 0.01 mm'."""
    if mm < _LEAST:
        return f"less than {_LEAST:g} mm"
    return f"{mm:.0f} mm" if mm >= _WHOLE else f"{plain(mm)} mm"


def stretched(by: float, over: float) -> str:
    """That paper would be stretched by so much over a length (mm)."""
    if by >= _TORN * over:
        return "the paper would be pulled to pieces"
    return f"paper would be stretched by {millimetres(by)} over {millimetres(over)}"
