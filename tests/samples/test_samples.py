"""Every sample folds, keeps to the laws of flat paper at every step, and folds as it was accepted.

In: samples/*.foldscript. The snapshots hold one line a state for every sample (what an eye would
count: plates, pairs of layers, size, area), and two small models in full. Numbers are rounded so
that a snapshot only changes when the paper does.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import shapely
from syrupy.assertion import SnapshotAssertion

from foldscript.folding.steps import Model
from foldscript.output.states import PlateData, StateData, states

from ..sample_scripts import sample

FOLDER = Path(__file__).parents[2] / "samples"
SAMPLES = sorted(path.stem for path in FOLDER.glob("*.foldscript"))
FULL = ("cup", "dog")


def model(name: str) -> Model:
    return sample(name).model


def script(name: str) -> str:
    return (FOLDER / f"{name}.foldscript").read_text("utf-8")


def shape(plate: PlateData) -> shapely.Polygon:
    """A plate where it lies now, in mm."""
    (a, b, tx), (c, d, ty) = plate["place"]
    rings = [
        [(a * x + b * y + tx, c * x + d * y + ty) for x, y in ring]
        for ring in (plate["outline"], *plate["holes"])
    ]
    return shapely.Polygon(rings[0], rings[1:])


def summary(state: StateData) -> str:
    """What an eye would count: plates, layers over each other, size, covered area, colour shown."""
    plates = [shape(p) for p in state["plates"]]
    whole = shapely.union_all(plates, grid_size=1e-6)
    x0, y0, x1, y1 = whole.bounds
    over: dict[int, list[int]] = {}
    for i, j in state["above"]:
        over.setdefault(j, []).append(i)
    front = sum(
        shapely.difference(
            plates[k], shapely.union_all([plates[i] for i in over.get(k, [])]), grid_size=1e-6
        ).area
        for k, plate in enumerate(state["plates"])
        if plate["shows"] == "front"
    )
    return (
        f"{state['step']:>2}: {len(plates)} plates, {len(state['above'])} pairs, "
        f"{len(state['marks'])} creases, {x1 - x0:.1f} x {y1 - y0:.1f} mm, "
        f"covers {whole.area / 100:.1f} cm2, front seen {front / 100:.1f} cm2"
    )


def canonical(state: StateData) -> dict[str, Any]:
    """The state with whole hundredths of a millimetre, plates in the order of their outlines."""

    def rounded(value: Any) -> Any:
        if isinstance(value, float):
            return round(value, 2) + 0.0
        return [rounded(v) for v in value] if isinstance(value, list) else value

    def from_lowest(ring: list[list[float]]) -> list[list[float]]:
        start = ring.index(min(ring))
        return ring[start:] + ring[:start]

    def text(plate: PlateData) -> str:
        (a, b, tx), (c, d, ty) = rounded(plate["place"])
        outline = from_lowest(rounded(plate["outline"]))
        return f"{outline} at [{a} {b} {tx}; {c} {d} {ty}] {plate['shows']}"

    told = [text(plate) for plate in state["plates"]]
    ordered = sorted(told)
    place = {k: ordered.index(t) for k, t in enumerate(told)}
    return {
        "step": state["step"],
        "plates": ordered,
        "above": " ".join(sorted(f"{place[i]}>{place[j]}" for i, j in state["above"])),
        "creases": sorted(
            str(sorted([rounded(mark["from"]), rounded(mark["to"])])) for mark in state["marks"]
        ),
    }


def test_there_are_enough_samples() -> None:
    assert len(SAMPLES) >= 8


@pytest.mark.parametrize("name", SAMPLES)
def test_head(name: str) -> None:
    head = model(name)
    assert head.title
    assert head.credit in ("traditional", "exercise")  # no other source is known
    assert len(head.steps) >= 6
    assert script(name).startswith("# Otterhythe Branch Library, Thursday folding club.\n# ")


@pytest.mark.parametrize("name", SAMPLES)
def test_landmarks_have_names(name: str) -> None:
    assert re.search(r"^  mark \w+ |^  .* as \w+$", script(name), re.MULTILINE)


@pytest.mark.parametrize("name", SAMPLES)
def test_captions_are_sentences(name: str) -> None:
    for step in model(name).steps:
        for sentence in [step.caption] if step.caption else [w.render() for w in step.wording]:
            assert re.fullmatch(r"[A-Z].*[.]", sentence), sentence


def test_the_shelf_shows_the_language() -> None:
    """Between them the samples use every simple move, and sheets that are not square."""
    shelf = "\n".join(script(name) for name in SAMPLES)
    for verb in ("valley", "mountain", "crease", "pinch", "pleat", "turn over", "rotate", "mark"):
        assert re.search(rf"^  {verb}\b", shelf, re.MULTILINE), verb
    assert re.search(r"^  unfold\b", shelf, re.MULTILINE)
    assert re.search(r"\d layers$", shelf, re.MULTILINE)
    assert re.search(r"all layers$", shelf, re.MULTILINE)
    assert re.search(r"^step$", shelf, re.MULTILINE), "some captions are written automatically"
    assert re.search(r"^sheet A4 ", shelf, re.MULTILINE)
    assert re.search(r"^sheet (rectangle|strip) ", shelf, re.MULTILINE)


#: Moves that change more than one fold at once, or whose layers go between others.
COMPOUND = (
    "collapse",
    "inside reverse",
    "outside reverse",
    "squash",
    "petal",
    "open sink",
    "crimp",
    "tuck",
    "swing",
    "open out",
    "pull apart",
)


def test_whole_models_of_compound_moves() -> None:
    """Ten or more, from bases and with repeats; between them they use most of the repertoire."""
    using = {
        name: {v for v in COMPOUND if re.search(rf"^  {v}\b", script(name), re.MULTILINE)}
        for name in SAMPLES
    }
    assert sum(bool(used) for used in using.values()) >= 10
    assert set().union(*using.values()) == set(COMPOUND)
    shelf = "\n".join(script(name) for name in SAMPLES)
    for base in ("preliminary", "bird", "fish", "blintz", "waterbomb"):
        assert f"start from {base} base\n" in shelf
    for where in ("behind", "on the other side", "3 times"):
        assert re.search(rf"^  repeat .*{where}$", shelf, re.MULTILINE), where
    assert max(len(model(name).steps) for name in SAMPLES) >= 25


@pytest.mark.parametrize("name", SAMPLES)
def test_folds_as_accepted(name: str, snapshot: SnapshotAssertion) -> None:
    assert [summary(state) for state in states(model(name))["states"]] == snapshot


@pytest.mark.parametrize("name", FULL)
def test_lies_as_accepted(name: str, snapshot: SnapshotAssertion) -> None:
    assert [canonical(state) for state in states(model(name))["states"]] == snapshot
