"""The catalogues that come along: sound, and what they lack.

A new sentence is said in English until it is translated: that is a warning of one test here, and no
failure of any.
"""

from __future__ import annotations

import warnings
from functools import cache
from pathlib import Path

import pytest

from foldscript.languages.__main__ import PACKAGE, brought_up, place_of
from foldscript.languages.holes import holes
from foldscript.languages.language import languages, load_language
from foldscript.languages.po_file import Catalogue, po_text, read_catalogue
from foldscript.languages.templates import Fault, Found, templates
from foldscript.source.diagnostics import Source

OTHERS = [tag for tag in languages() if tag != "en"]
each = pytest.mark.parametrize("tag", OTHERS)


@cache
def in_source() -> tuple[list[Found], list[Fault]]:
    return templates(PACKAGE)


def catalogue(tag: str) -> Catalogue:
    """Read anew; whatever is wrong in it is raised, with its line."""
    place = place_of(tag)
    return read_catalogue(Source(str(place), place.read_text("utf-8")))


def test_these_languages_come_along() -> None:
    assert set(languages()) == {"en", "de", "es", "fr", "nl"}


def test_every_template_can_be_found_in_the_source() -> None:
    found, faults = in_source()
    assert faults == []
    for one in found:
        holes(one.template)


def untranslated(tag: str) -> list[str]:
    """Templates of the source that a language has no words for, in the order of their first use."""
    known = {(e.template, e.many) for e in catalogue(tag).entries if e.translated}
    return [one.template for one in in_source()[0] if (one.template, one.many) not in known]


def test_what_is_untranslated_is_listed() -> None:
    """After a sentence is added or changed: python -m foldscript.languages, then translate."""
    for tag in OTHERS:
        lacking = untranslated(tag)
        if lacking:
            rows = "\n  ".join(lacking)
            warnings.warn(f"{tag} lacks {len(lacking)} sentences:\n  {rows}", stacklevel=1)
        assert len(lacking) < len(in_source()[0]) / 10, "a language that is hardly spoken"


@each
def test_bringing_up_to_date_keeps_every_translation(tag: str) -> None:
    """Where the source has moved, only places and order change; doing it twice changes nothing."""
    there = catalogue(tag)
    said = {(one.template, one.many) for one in in_source()[0]}
    once = brought_up(there, in_source()[0])
    kept = {(e.template, e.many): e.strings for e in once.entries}
    for entry in there.entries:
        if (entry.template, entry.many) in said:
            assert kept[entry.template, entry.many] == entry.strings
    assert set(kept) == said
    again = read_catalogue(Source("", po_text(once)))
    assert po_text(brought_up(again, in_source()[0])) == po_text(once)


@each
def test_one_thing_and_several(tag: str) -> None:
    language = load_language(tag)
    assert language("Signs used") != "Signs used"
    one, many = (language.plural("{n} step", "{n} steps", n) for n in (1, 2))
    assert one != many


@each
def test_cases_asked_for_are_there(tag: str) -> None:
    """A noun phrase that begins with an article has every case that a hole of its language asks for."""
    entries = catalogue(tag).entries
    asked = {
        part.partition(":")[2].partition("}")[0]
        for entry in entries
        for text in entry.strings
        for part in text.split("{")[1:]
        if ":" in part.partition("}")[0]
    }
    if "dat" not in asked:
        return
    nouns = [e for e in entries if e.template.startswith("the ") and not e.template.endswith(".")]
    assert len(nouns) > 50
    for entry in nouns:
        first = entry.strings[0]
        assert "|dat:" in first or not first.startswith(("die ", "der ", "das ")), first


def test_regions_fall_back_and_unknown_languages_stay_silent() -> None:
    assert load_language("es-MX")("Signs used") == load_language("es")("Signs used")
    assert load_language("es_mx").tag == "es-MX"
    assert load_language("tlh")("Signs used") == "Signs used"
    assert load_language("en-GB")("Signs used") == "Signs used"


def test_numbers_and_contractions() -> None:
    from foldscript.languages.wording import Phrase, decimal, phrase

    spanish, french = load_language("es"), load_language("fr")
    assert decimal("7.5", spanish) == "7,5"
    edge = phrase("the middle of {line}", line=Phrase("the top edge"))
    assert edge.render(spanish) == "el punto medio del borde superior"
    assert edge.render(french) == "le milieu du bord supérieur"
    corner = phrase("the middle of {line}", line=phrase("line {ends}", ends="AB"))
    assert corner.render(spanish) == "el punto medio de la línea AB"


def test_cases() -> None:
    from foldscript.languages.wording import Phrase, phrase

    german = load_language("de")
    hold = phrase("Hold the paper at {what}.", what=Phrase("the top corner"))
    assert hold.render(german) == "Halte das Papier an der oberen Ecke fest."
    fold = phrase("to {goal}", goal=Phrase("the top corner"))
    assert fold.render(german) == "auf die obere Ecke"


def test_a_spoilt_catalogue_is_told_at_its_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from foldscript.languages import language
    from foldscript.source.diagnostics import FoldscriptError

    text = place_of("es").read_text("utf-8")
    line = text[: text.index("hasta {goal}")].count("\n") + 1
    (tmp_path / "es.po").write_text(text.replace("hasta {goal}", "hasta {meta}"), "utf-8")
    monkeypatch.setattr(language, "_locale", lambda: tmp_path)
    language._shipped.cache_clear()
    try:
        with pytest.raises(FoldscriptError) as error:
            load_language("es")
    finally:
        language._shipped.cache_clear()
    (fault,) = error.value.diagnostics
    assert fault.code == "bad-catalogue"
    assert fault.source is not None
    assert fault.span is not None
    assert fault.source.position(fault.span.start)[0] == line
    assert "it lacks {goal}" in fault.message
