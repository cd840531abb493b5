"""Whatever foldscript says while it makes things of the samples can be translated, and is.

`test_catalogues.py` lists what catalogues lack of the templates that can be read off the source; here the
templates are those that are said in fact, and the texts on pages and screens are looked at for English.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from string import Formatter

import pytest

from foldscript.building import binding, class_plan
from foldscript.building.handout import build, build_options
from foldscript.building.practice import practise
from foldscript.captions.speaking import spoken
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.languages.language import Spoken, languages, load_language
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Narration
from foldscript.output.fonts import measure
from foldscript.output.words import words_text
from foldscript.pages.layout.handout import handout
from foldscript.pages.sizes import page_size

from ..sample_scripts import SAMPLES, SCRIPTS, sample
from .test_catalogues import in_source, untranslated

OTHERS = [tag for tag in languages() if tag != "en"]
#: Words that none of the other languages has ("of" is Dutch, "an" German).
ENGLISH_WORDS = re.compile(
    r"\b(the|and|fold|folds|step|steps|edge|corner|layers?|with|turn)\b", re.I
)
#: What comes out where parts of a sentence do not fit each other.
MISPRINTS = re.compile(r",,|,\.|\.\.|[{}|]| [,.]")
#: Too slow to tell in words here (it takes longer than all others together); its moves are in others.
UNTOLD = {"frog"}


@dataclass
class Said:
    """What was said: template and its plural, '' where there is none."""

    templates: set[tuple[str, str]] = field(default_factory=set)


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> Said:
    """Hears what every language with a catalogue is asked to say."""
    heard = Said()
    say, plural = Spoken.say, Spoken.plural

    def hear(self: Spoken, template: str, case: str = "") -> str:
        heard.templates.add((template, ""))
        return say(self, template, case)

    def hear_plural(self: Spoken, one: str, many: str, n: int) -> str:
        heard.templates.add((one, many))
        return plural(self, one, many, n)

    monkeypatch.setattr(Spoken, "say", hear)
    monkeypatch.setattr(Spoken, "plural", hear_plural)
    return heard


@cache
def bare(path: Path) -> Model:
    """A sample without words of its own: no title, notes, names of paper, or captions of the teacher's."""
    model = sample(path.stem).model
    steps = [replace(s, caption="", captions=()) for s in model.steps]
    # What a folder cannot do to paper (a shape that is pulled by hand) only the script's captions say.
    return replace(model, title="X", titles=(), own_notes=(), other_notes=(), steps=tuple(steps))


@cache
def telling(path: Path) -> Narration:
    return narrate(bare(path))


def unread(said: Said) -> list[str]:
    """Templates that were said, and that nobody can translate: they cannot be read off the source."""
    known = {(one.template, one.many) for one in in_source()[0]}
    return [
        template
        for template, many in sorted(said.templates)
        # '{line} {where}', '13': the same in every language
        if re.search(r"[A-Za-z]", re.sub(r"\{[a-z_]+\}", "", template))
        and (template, many) not in known
    ]


@pytest.fixture
def without_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sentences that are not translated yet are left out, but for what fills their holes."""
    say, plural = Spoken.say, Spoken.plural

    def holes_of(template: str) -> str:
        return " – ".join(f"{{{hole}}}" for _, hole, _, _ in Formatter().parse(template) if hole)

    def leave_out(self: Spoken, template: str, case: str = "") -> str:
        lacking = template in lacks(self.tag)
        return holes_of(template) if lacking else say(self, template, case)

    def leave_out_several(self: Spoken, one: str, many: str, n: int) -> str:
        return holes_of(one) if one in lacks(self.tag) else plural(self, one, many, n)

    monkeypatch.setattr(Spoken, "say", leave_out)
    monkeypatch.setattr(Spoken, "plural", leave_out_several)


@cache
def lacks(tag: str) -> frozenset[str]:
    return frozenset(untranslated(tag))


def test_what_the_samples_say_can_be_translated(said: Said) -> None:
    """Captions and words of all samples; the language does not change which templates are said."""
    german = load_language("de")
    for path in SCRIPTS:
        model = spoken(bare(path), german, None)
        for step in model.steps:
            assert [p.render(german) for p in step.wording] or not step.panels
        if path.stem not in UNTOLD:
            words_text(telling(path), german)
    assert len(said.templates) > 250
    assert unread(said) == []


def test_what_pages_and_screens_say_can_be_translated(said: Said, tmp_path: Path) -> None:
    """Handouts, slides, words, crease patterns, a booklet, a class plan, a practice sheet."""
    formats = ("svg", "pdf", "slides", "words", "words-html", "creases", "creases-pdf")
    options = build_options(formats, "A4", "colour", languages=["es"])
    for name in ("helmet", "masu", "hat-to-boat"):
        built = build(SAMPLES / f"{name}.foldscript", tmp_path, options)
        assert built.files
    club = tmp_path / "club.toml"
    models = ", ".join(f"'{SAMPLES / name}.foldscript'" for name in ("helmet", "letter"))
    club.write_text(f'title = "Club"\nmodels = [{models}]\nintroduction = "X"\n', "utf-8")
    binding.bind(club, tmp_path, binding.booklet_options("", "", imposed=True, languages=["es"]))
    who = class_plan.class_of(7, "", "A4", "colour", "es")
    planned = class_plan.plan([club], who)
    class_plan.plan_text(planned)
    class_plan.plan_pages(planned, who, tmp_path)
    for steps in (None, (2, 4)):
        place = SAMPLES / "fish.foldscript"
        practise(place, steps, page_size("A5"), tmp_path, language="es")
    assert ("Contents", "") in said.templates
    assert ("Next: {label}", "") in said.templates
    assert unread(said) == []


@pytest.mark.usefixtures("without_words")
@pytest.mark.parametrize("tag", OTHERS)
def test_nothing_stays_english(tag: str) -> None:
    """Not a word on the pages of a few models, whose own words are taken away."""
    speech = load_language(tag)
    style = load_style("colour")
    for name in ("crane", "fan", "helmet", "letter"):
        path = SAMPLES / f"{name}.foldscript"
        model = spoken(bare(path), speech, None)
        page = handout(model, style, page_size("A4"), measure, speech)
        for text in ("\n".join(page.texts()), words_text(telling(path), speech).decode()):
            lines = text.splitlines()
            assert [line for line in lines if ENGLISH_WORDS.search(line)] == []
            assert [line for line in lines if MISPRINTS.search(line)] == []
