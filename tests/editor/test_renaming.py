"""Renaming leaves the folded model the same: every name of samples and small scripts, one after the other."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from foldscript.editor.giving import Kind
from foldscript.editor.names import Entity
from foldscript.editor.renaming import renamed_besides, renaming
from foldscript.editor.written import Written
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.output.states import states_json
from foldscript.source.diagnostics import Edit, FoldscriptError, Source
from foldscript.syntax.parser import parse

from .speaking import SAMPLES

#: Small models that name much: images of repeats, several parts and units, groups, what a base has named.
NAMING = (
    *("windmill", "box-and-lid", "six-unit-cube", "throwing-star", "jumping-frog", "fan", "cup"),
    *("lily", "helmet"),
)
IMAGES = """\
model "Images"
sheet square 15 cm, corner P at the bottom, corners named P Q R S

step
  mark O at the centre
step "Fold P to the centre, O. M is halfway."
  valley P to O as corner-fold
  mark M at midpoint of P O
step
  repeat step 2, 3 times
step "From M to M'."
  unfold corner-fold''
  mark X at midpoint of M M'
"""


def renamed(text: str, path: Path, entity_of: int, new: str) -> str:
    """The text with the n-th entity of it called otherwise."""
    written = Written(path, text)
    entity = list(written.names.entities)[entity_of]
    given = entity.given
    assert given is not None
    for edit in reversed(renaming(written, given.span.start, new, frozenset())):
        text = edit.applied(text)
    return text


def entities(text: str, path: Path) -> list[tuple[int, Entity]]:
    """What can be called otherwise."""
    written = Written(path, text)
    return [(k, e) for k, e in enumerate(written.names.entities) if e.given is not None]


def folded(text: str, path: Path) -> Model:
    return fold(parse(Source(str(path), text), verbs()), path)


def shape(model: Model) -> list[object]:
    """All that lies where it lies, and where each figure shows letters; nothing of what is called how."""
    states = json.loads(states_json(model))["states"]
    figures = [
        sorted((round(x, 6), round(y, 6)) for _, (x, y) in panel.letters)
        for step in model.steps
        for panel in step.panels
    ]
    return [states, figures]


def fresh(entity: Entity, rng: random.Random) -> str:
    """A name that nothing has: a letter with a number for a point, else a word."""
    if entity.kind in (Kind.POINT, Kind.CORNER) and len(entity.name) <= 2:
        return f"{rng.choice('GHJKLNTUVWZ')}{rng.choice('56789')}"
    return "new-" + "".join(rng.choices("bcdfgh", k=6))


def texts() -> list[tuple[str, str, Path]]:
    found = [("images", IMAGES, SAMPLES / "images.foldscript")]
    for name in NAMING:
        path = SAMPLES / f"{name}.foldscript"
        found.append((name, path.read_text(encoding="utf-8"), path))
    return found


@pytest.mark.parametrize(("name", "text", "path"), texts(), ids=[row[0] for row in texts()])
def test_the_model_stays_the_same(name: str, text: str, path: Path) -> None:
    """All names of a script are given anew, in an order by chance; then it is folded."""
    rng = random.Random(name)
    was = shape(folded(text, path))
    rows = [k for k, _ in entities(text, path)]
    rng.shuffle(rows)
    now = text
    for k in rows:
        entity = list(Written(path, now).names.entities)[k]
        for _ in range(20):
            try:
                now = renamed(now, path, k, fresh(entity, rng))
                break
            except FoldscriptError:
                continue  # taken: another
        else:
            pytest.fail(f"no name was free for {entity.name}")
    assert rows == [] or now != text
    assert shape(folded(now, path)) == was


@pytest.mark.parametrize(("name", "text", "path"), texts(), ids=[row[0] for row in texts()])
def test_taken_names_are_refused(name: str, text: str, path: Path) -> None:
    """Whatever name of the same room is asked for: it is refused, or nothing changes its meaning."""
    written = Written(path, text)
    some = [one for one in written.names.entities if one.given is not None]
    for entity in some:
        for other in some:
            alike = other.room is entity.room and other.kind is not Kind.GROUP
            if other is entity or entity.kind is Kind.GROUP or not alike:
                continue
            assert entity.given is not None
            with pytest.raises(FoldscriptError):
                renaming(written, entity.given.span.start, other.name, frozenset())


def test_images_follow_their_name() -> None:
    path = SAMPLES / "images.foldscript"
    written = Written(path, IMAGES)
    at = IMAGES.index("mark M") + 5
    text = IMAGES
    for edit in reversed(renaming(written, at, "K", frozenset())):
        assert isinstance(edit, Edit)
        text = edit.applied(text)
    assert "mark X at midpoint of K K'" in text
    assert '"From K to K\'."' in text
    assert "K is halfway" in text


def test_translations_go_with_their_sentences(tmp_path: Path) -> None:
    """Both sentences of a side file's entry change, so that it is not stale; others stay."""
    path = tmp_path / "images.foldscript"
    path.write_text(IMAGES, encoding="utf-8")
    side = tmp_path / "images.de.toml"
    kept = '3 = { of = "Gone.", says = "M ist weg." }\n4 = "Von M bis M\'."\n'
    of, says = "Fold P to the centre, O. M is halfway.", "Falte P zur Mitte, O. M liegt dazwischen."
    side.write_text(f'[steps]\n2 = {{ of = "{of}", says = "{says}" }}\n{kept}', encoding="utf-8")
    written = Written(path, IMAGES)
    ((source, edits),) = renamed_besides(written, IMAGES.index("mark M") + 5, "K")
    text = source.text
    for edit in sorted(edits, key=lambda one: one.span.start, reverse=True):
        text = edit.applied(text)
    was = side.read_text(encoding="utf-8")
    assert text == was.replace("O. M", "O. K").replace("Von M bis M'", "Von K bis K'")
