"""Models in other languages: which words are taken, and what they fall back to."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.captions.choosing import languages_of
from foldscript.captions.side_file import Original, read_side_file
from foldscript.captions.speaking import in_language, spoken
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.languages.language import load_language
from foldscript.languages.wording import sentences
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.nodes import Program
from foldscript.syntax.parser import parse

TEXT = """\
model "Card"
model es "Tarjeta"
credit traditional
note "Thin paper."
note es "Papel fino."
sheet square 7.5 cm, coloured side down

step "Book fold."
  caption es "Dobla como un libro."
  caption pt-BR "Dobre como um livro."
  valley left edge onto right edge
step
  turn over
step "Fold up."
  valley bottom edge onto top edge, all layers
step "Admire it."
"""


def in_own_language(model: Model) -> Model:
    return spoken(model, load_language(model.language), None)


def program(text: str = TEXT, name: str = "card.foldscript") -> Program:
    return parse(Source(name, text), verbs())


def said(model: Model) -> list[str]:
    """The caption of every step, as it stands under its first figure."""
    return [s.caption or sentences(s.wording, model.speech) for s in model.steps]


def in_(tag: str, script: Path, text: str = TEXT) -> tuple[Model, list[str]]:
    model, warnings = in_language(fold(program(text)), script, load_language(tag))
    return model, [w.code for w in warnings]


def test_own_language_is_as_written(tmp_path: Path) -> None:
    model = in_own_language(fold(program()))
    assert (model.title, model.credit, model.notes) == ("Card", "traditional", ("Thin paper.",))
    assert said(model) == ["Book fold.", "Turn over from side to side.", "Fold up.", "Admire it."]


def test_the_scripts_translation_then_the_automatic_caption_then_the_script(tmp_path: Path) -> None:
    model, warnings = in_("es", tmp_path / "card.foldscript")
    assert warnings == []
    assert (model.title, model.credit, model.notes) == ("Tarjeta", "tradicional", ("Papel fino.",))
    assert model.sheet.shape == "cuadrado de 7,5 cm"
    assert model.language == "es"
    assert said(model) == [
        "Dobla como un libro.",
        "Da la vuelta al modelo de lado a lado.",
        "Dobla el borde inferior hacia arriba hasta el borde superior, todas las capas juntas.",
        "Admire it.",
    ]


def test_a_region_takes_the_words_of_its_language(tmp_path: Path) -> None:
    model, _ = in_("es-MX", tmp_path / "card.foldscript")
    assert said(model)[0] == "Dobla como un libro."
    assert model.language == "es-MX"


def test_a_language_without_a_catalogue(tmp_path: Path) -> None:
    model, warnings = in_("pt-BR", tmp_path / "card.foldscript")
    assert warnings == ["no-catalogue"]
    assert said(model) == [
        "Dobre como um livro.",
        "Turn over from side to side.",
        "Fold up.",
        "Admire it.",
    ]


def test_a_script_in_another_language_speaks_it(tmp_path: Path) -> None:
    model = in_own_language(
        fold(program('language de\nstep "Wenden!"\nturn over\nstep\nturn over'))
    )
    assert said(model) == ["Wenden!", "Wende das Modell von links nach rechts."]
    english, _ = in_("en", tmp_path / "x.foldscript", 'language de\nstep "Wenden!"\nturn over')
    assert said(english) == ["Turn over from side to side."]


def test_side_files_say_the_rest(tmp_path: Path) -> None:
    script = tmp_path / "card.foldscript"
    (tmp_path / "card.es.toml").write_text(
        'title = "Cartulina"\n[steps]\n1 = "Otra cosa."\n3 = "Dobla hacia arriba."\n4 = ""\n9 = "?"\n',
        "utf-8",
    )
    model, warnings = in_("es", script)
    assert model.title == "Tarjeta"  # what the script says goes before
    assert said(model)[0] == "Dobla como un libro."
    assert said(model)[2:] == ["Dobla hacia arriba.", "Admire it."]
    assert warnings == ["no-such-step", "said-twice"]


def test_faults_of_a_side_file_have_their_places(tmp_path: Path) -> None:
    script = tmp_path / "card.foldscript"
    (tmp_path / "card.es.toml").write_text(
        'titel = "x"\nnotes = ["a", "b"]\n[steps]\none = "x"\n2 = 5\n', "utf-8"
    )
    with pytest.raises(FoldscriptError) as error:
        in_("es", script)
    places = [
        (d.code, d.source.position(d.span.start))
        for d in error.value.diagnostics
        if d.source is not None and d.span is not None
    ]
    assert places == [
        ("unknown-key", (1, 1)),
        ("unknown-key", (4, 1)),
        ("bad-value", (5, 5)),
    ]


def test_a_side_file_that_is_no_toml(tmp_path: Path) -> None:
    (tmp_path / "card.es.toml").write_text("title = Vaso\n", "utf-8")
    with pytest.raises(FoldscriptError) as error:
        in_("es", tmp_path / "card.foldscript")
    assert error.value.diagnostics[0].code == "not-toml"


def test_warnings_of_a_side_file_point_at_the_step(tmp_path: Path) -> None:
    (tmp_path / "card.fr.toml").write_text('notes = ["a", "b"]\n[steps]\n7 = "x"\n', "utf-8")
    model = fold(program())
    _, warnings = in_language(model, tmp_path / "card.foldscript", load_language("fr"))
    said_ = [(w.message, w.span and w.source and w.source.position(w.span.start)) for w in warnings]
    assert said_ == [
        ("the script has 1 note, and 2 are translated here", (1, 15)),
        ("there is no step 7: the script has 4 steps", (3, 1)),
    ]


def test_languages_of_a_script(tmp_path: Path) -> None:
    (tmp_path / "card.fr.toml").write_text("", "utf-8")
    (tmp_path / "card.foldscript.toml").write_text("", "utf-8")
    (tmp_path / "cards.it.toml").write_text("", "utf-8")
    tags = languages_of(program(), tmp_path / "card.foldscript")
    assert tags == ("en", "es", "fr", "pt-BR")


def test_a_term_is_explained_at_its_first_automatic_use(tmp_path: Path) -> None:
    text = (
        "sheet square 100 mm, corner A at the bottom\nstart\n".replace("start\n", "")
        + "step\nmark P at 1/4 of A C\nmark Q at 1/3 of A C\nmark R at 1/2 of A C\nmark S at 2/3 of A C\n"
        "crease through P perpendicular to line A C as p\ncrease through Q perpendicular to line A C as q\n"
        "crease through R perpendicular to line A C as r\ncrease through S perpendicular to line A C as s\n"
        "step\npleat valley s, mountain r, moving C\n"
        "step\npleat mountain q, valley p, moving A\n"
    )
    model = in_own_language(fold(program(text)))
    first, second = said(model)[1:]
    assert first == (
        "Make a pleat: fold the flap to the back along the third horizontal crease from the bottom, "
        "and to the front again along the top horizontal crease."
    )
    assert second.startswith("Pleat along")


def test_like_moves_are_told_in_one_sentence() -> None:
    text = "step\nmark O at the centre\nstep\nvalley A to O\nvalley C to O\nstep\nturn over\n"
    model = in_own_language(fold(program(text)))
    assert said(model)[1] == "Fold corners A and C over to point O."


def test_many_captions_without_a_step_are_told_in_a_few_lines(tmp_path: Path) -> None:
    path = tmp_path / "card.es.toml"
    path.write_text("[steps]\n" + "".join(f'{k} = "x"\n' for k in range(1, 4401)), "utf-8")
    warnings = read_side_file(path, "es", Original("", "", "", (), (), ("", "", ""))).warnings
    assert [w.message for w in warnings[:1]] == ["there is no step 4: the script has 3 steps"]
    assert len(warnings) == 6
    assert "4,392 more captions" in warnings[-1].message
