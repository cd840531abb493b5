"""Units closed to a hollow model, whose layers are woven into each other."""

from __future__ import annotations

from pathlib import Path

from foldscript.building.script import Script

#: Six units of quarters; four of the layers of each square lie under the next all round.
WOVEN = """\
sheets 6
sheet square 15 cm, coloured side down
step
  crease bottom edge onto top edge as middle
  crease bottom edge onto middle as low
  crease top edge onto middle as high
  mark V at midpoint of low
  mark X at midpoint of high
  mark W at 1/4 of middle
  mark Y at 3/4 of middle
  mark Z at midpoint of edge A B
  mark U at midpoint of edge C D
step
  valley A onto low, through left end of low
  valley C onto high, through right end of high
step
  valley bottom edge onto middle
  valley top edge onto middle
step
  tuck top left corner to V, all layers, under Z
step
  tuck bottom right corner to X, all layers, under U
step
  crease mountain along line V W, all layers, as k
  crease mountain along line X Y, all layers, as m
assemble "The cube"
step
  place unit 2, W of unit 2 to Y of unit 1 and V of unit 2 to V of unit 1, under U of unit 1
step
  place unit 3, W of unit 3 to W of unit 1 and V of unit 3 to X of unit 1, under Z of unit 1
step
  place unit 4, W of unit 4 to Y of unit 2 and V of unit 4 to V of unit 2, under U of unit 2
step
  place unit 5, W of unit 5 to W of unit 2 and V of unit 5 to X of unit 2, under Z of unit 2
step
  place unit 6, W of unit 6 to W of unit 4 and V of unit 6 to X of unit 4, under Z of unit 4
step
  turn over
step
  close along k of unit 1 and m of unit 1
"""


def test_units_of_woven_layers_are_refused(tmp_path: Path) -> None:
    """They have no order, which had been looked for without end."""
    file = tmp_path / "cube.foldscript"
    file.write_text(WOVEN, encoding="utf-8")
    standing = Script(file).standing
    assert not standing.poses
    (warning,) = standing.warnings
    assert "woven into each other" in warning.message
