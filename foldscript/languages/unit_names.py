"""What points and creases are called where several units are put together.

In: a name as one unit has it, and the unit's number. Out: the name among those of all units, as a script
says it, and as sentences of any language do.
"""

from __future__ import annotations

from .wording import Phrase, listed, phrase

_OF_UNIT = " of unit "


def of_unit(name: str, number: int) -> str:
    """'P of unit 2', as a script says it."""
    return f"{name}{_OF_UNIT}{number}"


def letter_of(name: str) -> str:
    """A point's letter as it stands in a figure: 'P' for 'P of unit 2'."""
    return name.partition(_OF_UNIT)[0]


def said(name: str) -> Phrase | str:
    """A name in a sentence: a letter as it stands, 'P of unit 2' in the language's words."""
    letter, of, number = name.partition(_OF_UNIT)
    return phrase("{name} of unit {number}", name=letter, number=number) if of else name


def on_sheet(*names: str) -> Phrase:
    """Corners of the sheet in a sentence: 'A of the sheet', 'A and B of the sheet', 'A of unit 2'."""
    row = listed([phrase("{name}", name=said(name)) for name in names])
    return (
        row
        if any(_OF_UNIT in name for name in names)
        else phrase("{names} of the sheet", names=row)
    )


def said_together(*names: str) -> Phrase | str:
    """Several points that one thing is named by: 'AB', 'A M2' where one is long, 'AB of unit 2'."""
    parted = [name.partition(_OF_UNIT) for name in names]
    letters = [letter for letter, _, _ in parted]
    if len({number for _, _, number in parted}) > 1:
        return listed([phrase("{name}", name=said(name)) for name in names])
    row = ("" if all(len(letter) == 1 for letter in letters) else " ").join(letters)
    return said(row + "".join(parted[0][1:]))
