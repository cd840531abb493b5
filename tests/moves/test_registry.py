"""One move, one file: a file that is added is a move everywhere; one that lacks something is refused."""

from __future__ import annotations

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
