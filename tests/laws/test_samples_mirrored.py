"""Every sample as it would be told from the other side of the table: left for right, in its words alone.

Each script's text is mirrored (corners stand the other way round, left and right and both ways of turning
change places), with the bases that it starts from beside it; every step must come out as the mirror image.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import State
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from .images import Motion
from .outcomes import unlike

FOLDER = Path("samples")
BASES = sorted((FOLDER / "bases").glob("*.foldscript"))
SAMPLES = sorted(FOLDER.glob("*.foldscript"))

#: What changes places. Quoted text is told to readers, not folded.
_WORDS = re.compile(
    r"start from [a-z]+ base|[13]/4 of the (?:top|bottom) edge|"
    r'"[^"\n]*"|#[^\n]*|\b(?:left|right|clockwise|anticlockwise)\b|\bat [\d.]+ degrees to\b'
)
_SWAPPED = {
    "left": "right",
    "right": "left",
    "clockwise": "anticlockwise",
    "anticlockwise": "clockwise",
}


def mirrored_text(text: str) -> str:
    """The script that says the same with left and right exchanged."""
    return _WORDS.sub(_said, re.sub(r"^sheet .*$", _sheet, text, flags=re.MULTILINE))


def _said(found: re.Match[str]) -> str:
    word = found[0]
    if word[0] in '"#':
        return word
    if word.startswith("start "):
        return f'start from "{word.split()[2]}-base.foldscript"'
    if " of the " in word:  # counted from its left end
        return f"{4 - int(word[0])}{word[1:]}"
    if word.startswith("at "):
        return f"at {180 - float(word.split()[1]):g} degrees to"
    return _SWAPPED.get(word, word)


def _sheet(found: re.Match[str]) -> str:
    """Names run round the sheet the other way; the corner that is said to be at the bottom stays there."""
    line = found[0]
    assert "corners named" not in line
    return f"{line}, corners named {'A D C B' if 'at the bottom' in line else 'B A D C'}"


def sheets_mirror(one: Sheet, other: Sheet) -> Motion:
    """The mirror image of the plane that carries every corner to the one of its name."""
    (ax, ay), (bx, by) = (one.corner(name) for name in one.corner_names[:2])
    (cx, cy), (dx, dy) = (other.corner(name) for name in one.corner_names[:2])
    square = (bx - ax) ** 2 + (by - ay) ** 2
    c = ((bx - ax) * (dx - cx) - (by - ay) * (dy - cy)) / square
    s = ((bx - ax) * (dy - cy) + (by - ay) * (dx - cx)) / square
    motion = Motion(c, s, s, -c, cx - c * ax - s * ay, cy - s * ax + c * ay)
    for name in one.corner_names:
        assert motion(one.corner(name)) == pytest.approx(other.corner(name), abs=1e-9), name
    return motion


def left_for_right(one: State, other: State) -> Motion:
    """x -> e - x, as the paper lies before the first step."""
    left = min(x for placed in one.placed for x, _ in placed)
    right = max(x for placed in other.placed for x, _ in placed)
    return Motion(-1, 0, 0, 1, left + right, 0)


def folds_at(path: Path, text: str) -> Model:
    return fold(parse(Source(path.name, text), verbs()), path)


@pytest.mark.parametrize("path", [*SAMPLES, *BASES], ids=lambda path: path.stem)
def test_a_sample_told_the_other_way_round_is_its_mirror_image(path: Path, tmp_path: Path) -> None:
    for base in BASES:
        said = mirrored_text(base.read_text(encoding="utf-8"))
        (tmp_path / base.name).write_text(said, encoding="utf-8")
    text = path.read_text(encoding="utf-8")
    plain = folds_at(path, text)
    image = folds_at(tmp_path / path.name, mirrored_text(text))
    assert len(plain.steps) == len(image.steps)
    begins = {1, *(part.first for part in plain.parts)}
    motion = on_sheet = None
    for one, other in zip(plain.steps, image.steps, strict=True):
        if motion is None or one.number in begins:
            motion = left_for_right(one.before, other.before)
        if one.after.sheet.others:
            continue  # units put together: their sheets are laid out side by side, not mirrored
        if (
            one.after.sheet.corner_names
        ):  # else they have been cut off, and the sheet lies as it lay
            on_sheet = sheets_mirror(one.after.sheet, other.after.sheet)
        fault = unlike(one.after, other.after, motion, False, on_sheet)
        assert not fault, f"step {one.number}: {fault}"
