"""Two versions of a script on the disk, and what is said of them."""

from __future__ import annotations

from pathlib import Path

from foldscript.changes.comparing import ModelChange, compare
from foldscript.changes.versions import Pair, Version
from foldscript.drawing.style.styles import load_style
from foldscript.pages.sizes import page_size

HEAD = 'model "Card"\ncredit traditional\nsheet square 15 cm, coloured side down\n'
ONE = 'step "One."\n  crease left edge onto right edge as middle\n'
TWO = 'step "Two."\n  valley bottom edge onto top edge\n'
THREE = 'step "Three."\n  turn over\n'
FOUR = 'step "Four."\n  valley left edge onto right edge\n'
CARD = HEAD + ONE + TWO + THREE + FOUR


def compared(folder: Path, old: str | None, new: str | None) -> ModelChange:
    """What has become of a script; None where it is not."""
    paths: list[Path | None] = []
    for name, text in (("old", old), ("new", new)):
        path = folder / name / "card.foldscript"
        path.parent.mkdir(exist_ok=True)
        if text is not None:
            path.write_text(text, "utf-8")
        paths.append(path if text is not None else None)
    was, now = (Version(folder / name, name) for name in ("old", "new"))
    pair = Pair("card.foldscript", paths[0], paths[1], "card.foldscript")
    return compare(pair, was, now, load_style(), page_size("A4"))


def kinds(change: ModelChange) -> list[tuple[str, int | None, int | None]]:
    return [(step.kind.name, step.old, step.new) for step in change.steps]
