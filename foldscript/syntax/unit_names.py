"""What points and creases are called where several units are put together.

In: a name as one unit has it, and the unit's number. Out: the name among those of all units.
"""

from __future__ import annotations


def of_unit(name: str, number: int) -> str:
    """'P of unit 2'."""
    return f"{name} of unit {number}"
