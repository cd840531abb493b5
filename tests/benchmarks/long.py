"""A model of thirty steps for benchmarks: seventeen creases of a grid, then the helmet's steps."""

from __future__ import annotations

from pathlib import Path

HELMET = Path(__file__).resolve().parents[2] / "samples" / "helmet.foldscript"


def thirty_steps() -> str:
    """The script."""
    head, *steps = HELMET.read_text("utf-8").split("\nstep")
    grid = []
    for k in range(1, 9):
        grid.append(f"\n  crease through {k}/9 of A B and {k}/9 of D C")
        grid.append(f"\n  crease through {k}/9 of A D and {k}/9 of B C")
    grid.append("\n  turn over\n  turn over")
    rows = [f' "Grid, {number}."{row}\n' for number, row in enumerate(grid, 1)]
    text = "\nstep".join([head, *rows, *steps])
    assert text.count("\nstep") == 30
    return text
