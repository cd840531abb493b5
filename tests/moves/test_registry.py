"""One move, one file: a file that is added is a move everywhere; one that lacks something is refused."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import foldscript.moves
from foldscript.captions.speaking import spoken
from foldscript.classes.planning import plan_model
from foldscript.languages.language import load_language
from foldscript.languages.levels import Level
from foldscript.languages.wording import sentences
from foldscript.moves import registry
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Paragraph
from foldscript.output.words import words_text

from ..scripts import captions, folded, lies

#: A move of our own: the sheet's corner A is turned in, whatever is asked, and hands are told so.
DOGEAR = '''
"""Dogear: a corner of the page is turned down."""

from ..languages.levels import Level
from ..languages.wording import Phrase, phrase
from ..paper.signs import Sense
from .planning.fingers import OneFold
from .planning.fold_clauses import PLACES
from .planning.request import Move, Outcome, Request
from .planning.single_fold import choose, fold_signs, outcome


def make(request: Request) -> Outcome:
    """Folds the corner in front."""
    fold, _ = choose(request, Sense.VALLEY, need_side=True)
    words = phrase("Turn down {what}.", what=fold.alignment.what)
    return outcome(request, fold, fold_signs(request.state, fold, Sense.VALLEY), words)


MOVE = Move(
    "dogear",
    "turn a corner down",
    ("dogear A to C",),
    make,
    level=Level.INTERMEDIATE,
    tools=("a bookmark",),
    caution=Phrase("Ask whose book it is."),
    fingers=OneFold(first=Phrase("This is a dogear."), last=Phrase("Close the book on it.")),
)
'''

Add = Callable[[str], None]


@pytest.fixture
def add(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Add]:
    """Adds a file to the folder of moves, as long as the test runs."""
    monkeypatch.setattr(foldscript.moves, "__path__", [*foldscript.moves.__path__, str(tmp_path)])

    def file(text: str) -> None:
        (tmp_path / "dogear.py").write_text(text, "utf-8")
        registry.moves.cache_clear()

    yield file
    registry.moves.cache_clear()
    sys.modules.pop("foldscript.moves.dogear", None)


def test_a_file_is_all_that_a_move_takes(add: Add) -> None:
    """It is found, folded, captioned, narrated, and planned for a class, in other languages too."""
    add(DOGEAR)
    assert "dogear" in registry.verbs()
    model = folded("dogear A to C")
    assert lies(model, "A") == pytest.approx(lies(model, "C"))
    assert captions(model) == ["Turn down corner A."]
    (step,) = narrate(model).chapters[-2:-1]
    (first, *_) = step.blocks
    assert isinstance(first, Paragraph)
    said = sentences(first.sentences)
    assert said.startswith("This is a dogear.")
    assert "Close the book on it." in said
    plan = plan_model(model, 1, ())
    assert (plan.level, plan.hardest) == (Level.INTERMEDIATE, ("dogear",))
    assert plan.tools == ("a bookmark",)
    assert "Ask whose book it is." in [caution.render() for caution in plan.cautions]
    german = load_language("de")
    translated = spoken(model, german, None)
    assert [p.render(german) for p in translated.steps[0].wording] == ["Turn down Ecke A."]
    assert "Close the book on it." in words_text(narrate(translated), german).decode()


@pytest.mark.parametrize(
    ("left_out", "instead", "message"),
    [
        (DOGEAR[DOGEAR.index("    fingers=") : DOGEAR.rindex(")")], "", "'fingers'"),
        ('"turn a corner down"', '""', "the move 'dogear' lacks its summary"),
        ('("dogear A to C",)', "()", "the move 'dogear' lacks its forms"),
        ("dogear A to C", "valley A to C", "not written as its form says: 'valley A to C'"),
        ("MOVE =", "DOGEAR =", "a move's file ends with MOVE = Move"),
        ('"dogear",\n', '"valley",\n', "not written as its form says"),
        ('"dogear"', '"squash"', "there is a move 'squash' already"),
    ],
)
def test_what_a_move_lacks_is_said_when_it_is_loaded(
    add: Add, left_out: str, instead: str, message: str
) -> None:
    assert left_out in DOGEAR
    text = DOGEAR.replace(left_out, instead)
    if "already" in message:
        text = text.replace("dogear A to C", "squash A to C")
    add(text)
    with pytest.raises(TypeError, match=r"foldscript\.moves\.(dogear|squash)") as error:
        registry.moves()
    assert message in str(error.value)


def test_words_are_no_sentences_for_fingers(add: Add) -> None:
    add(DOGEAR.replace("fingers=OneFold(", "fingers=dict("))
    with pytest.raises(TypeError, match="'dogear' lacks its sentences for fingers"):
        registry.moves()


@pytest.fixture
def kept_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Which file brings which verb is kept in a folder of this test."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "kept"))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    registry.moves.cache_clear()
    yield Path(importlib.util.cache_from_source(registry.__file__)).parent
    registry.moves.cache_clear()


def _again() -> registry.Moves:
    registry.moves.cache_clear()
    return registry.moves()


def test_a_script_loads_only_the_moves_that_it_makes(kept_in: Path) -> None:
    assert set(_again()._loaded) == set(registry.moves())
    kept = _again()
    assert not kept._loaded
    assert "curl" in kept
    assert kept["open sink"].verb == "open sink"
    assert set(kept._loaded) == {"open sink", "closed sink"}
    assert dict(kept) == {move.verb: move for move in kept.values()}


def test_a_new_file_is_found_though_verbs_were_kept(kept_in: Path, add: Add) -> None:
    assert "dogear" not in _again()
    (first,) = kept_in.glob("verbs-*")
    add(DOGEAR)
    assert registry.moves()["dogear"].summary == "turn a corner down"
    (second,) = kept_in.glob("verbs-*")
    assert second != first


@pytest.mark.parametrize(
    "content", ["", "nothing", "[]", "{}", '{"valley": 3}', '{"valley": "os"}']
)
def test_a_spoilt_file_of_verbs_is_made_anew(kept_in: Path, content: str) -> None:
    known = list(_again())
    (file,) = kept_in.glob("verbs-*")
    file.write_text(content, "utf-8")
    assert list(_again()) == known
    assert file.read_text("utf-8") != content


def test_verbs_tell_their_advice(kept_in: Path) -> None:
    _again()
    kept = registry.verbs()
    assert set(kept) == {*registry.moves(), *registry.OF_SEVERAL}
    assert len(kept) == len(set(kept))
    assert "a repeat" not in kept
    assert kept["repeat"] == ""
    assert kept["petal"] == registry.moves()["petal"].advice != ""
    with pytest.raises(KeyError):
        kept["no verb"]
