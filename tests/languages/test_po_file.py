"""Reading catalogues as people write them."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.languages.language import load_language
from foldscript.languages.po_file import po_text, read_catalogue
from foldscript.languages.wording import Phrase, phrase, plural
from foldscript.source.diagnostics import FoldscriptError, Source

HEAD = (
    'msgid ""\nmsgstr ""\n"Language: qaa\\n"\n"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
)


def read(text: str):
    return read_catalogue(Source("words.po", HEAD + text))


def faults(text: str, head: str = HEAD) -> list[tuple[int, str]]:
    """(line after the header, message) of everything that is wrong."""
    source = Source("words.po", head + text)
    with pytest.raises(FoldscriptError) as error:
        read_catalogue(source)
    assert {d.code for d in error.value.diagnostics} == {"bad-catalogue"}
    return [
        (source.position(d.span.start)[0] - head.count("\n"), d.message)
        for d in error.value.diagnostics
        if d.span is not None
    ]


def test_entries() -> None:
    found = read(
        '#: moves/valley.py\nmsgid "Fold {what}."\nmsgstr "Falt"\n"e {what}."\n\n'
        '# said by a person\nmsgid "{n} step"\nmsgid_plural "{n} steps"\n'
        'msgstr[0] "ein \\"Schritt\\""\nmsgstr[1] "{n} Schritte"\n\n'
        '#~ msgid "gone"\n#~ msgstr "weg"\n'
    )
    one, two = found.entries
    assert (one.template, one.strings) == ("Fold {what}.", ("Falte {what}.",))
    assert two.templates == ("{n} step", "{n} steps")
    assert two.strings == ('ein "Schritt"', "{n} Schritte")
    assert found.language == "qaa"


def test_written_out_and_read_again_it_is_the_same() -> None:
    text = 'msgid "a\\\\b \\"c\\"\\td"\nmsgstr "e"\n\n#, fuzzy\nmsgid "f"\nmsgstr "g"\n'
    first = read(text)
    again = read_catalogue(Source("words.po", po_text(first)))
    assert [e.template for e in again.entries] == ['a\\b "c"\td', "f"]
    assert [e.translated for e in again.entries] == [True, False]
    assert po_text(again) == po_text(first)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('msgid "Fold {what}."\nmsgstr "Falte."', 2, "it lacks {what}"),
        ('msgid "Fold."\nmsgstr "Falte {was}."', 2, "{was} is not in the English"),
        ('msgid "Fold {what}."\nmsgstr "Falte {what."', 2, "stands alone"),
        ('msgid "Fold {what}."\nmsgstr "Falte {what.parts}."', 2, "is no hole"),
        ('msgid "Fold {what}."\nmsgstr "Falte {what!r}."', 2, "is no hole"),
        ('msgid "Fold {what}."\nmsgstr "Falte {}."', 2, "is no hole"),
        ('msgid "a"\nmsgstr "b|dat c"', 2, "after a bar stands a case"),
        ('msgid "a {x}"\nmsgstr "b {x}|dat:c"', 2, "it lacks {x}"),
        ('msgid "a"\nmsgstr " b"', 2, "the same blanks"),
        (
            'msgid "{n} a"\nmsgid_plural "{n} b"\nmsgstr[0] "c"',
            1,
            "1 translations stand here, not 2",
        ),
        ('msgid "{n} a"\nmsgid_plural "{n} b"\nmsgstr[0] "c"\nmsgstr[1] "{m}"', 4, "{m} is not in"),
        ('msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"', 4, "stands here twice"),
        ('# no sentence\nmsgstr "b"', 2, "stands here twice"),
        ('msgid "a"\nmsgstr "b\n', 2, "none of a catalogue"),
        ('hello\nmsgid "a"\nmsgstr "b"', 1, "none of a catalogue"),
    ],
)
def test_what_is_wrong_is_told_at_its_line(text: str, line: int, words: str) -> None:
    found = faults(text)
    assert any(at == line and words in message for at, message in found), found


def test_a_catalogue_has_to_say_its_language() -> None:
    assert faults('msgid "a"\nmsgstr "b"\n', head="") == [
        (1, "the catalogue does not say its language first")
    ]


@pytest.mark.parametrize(
    "rule", ["nplurals=2", "nplurals=2; plural=open('x')", "plural=n", "nplurals=1; plural=n"]
)
def test_a_rule_of_plurals_that_is_none(rule: str) -> None:
    head = HEAD.replace("nplurals=2; plural=(n != 1);", rule)
    assert faults("", head=head)[0][1].startswith("this does not tell which plural form")


def test_what_is_untranslated_or_fuzzy_is_not_checked() -> None:
    found = read('msgid "a {x}"\nmsgstr ""\n\n#, fuzzy\nmsgid "b {x}"\nmsgstr "c"\n')
    assert not any(e.translated for e in found.entries)


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("nplurals=1; plural=0;", {0: "x", 1: "x", 5: "x"}),
        ("nplurals=2; plural=(n > 1);", {0: "x", 1: "x", 5: "y"}),
        (
            "nplurals=3; plural=(n%10==1 && n%100!=11 ? 0 : n%10>=2 && n%10<=4 ? 1 : 2);",
            {1: "x", 21: "x", 3: "y", 11: "z", 5: "z"},
        ),
    ],
)
def test_plural_forms_of_any_number(rule: str, said: dict[int, str], tmp_path: Path) -> None:
    forms = "".join(f'msgstr[{k}] "{text}"\n' for k, text in enumerate("xyz"[: int(rule[9])]))
    path = tmp_path / "words.po"
    path.write_text(
        HEAD.replace("nplurals=2; plural=(n != 1);", rule)
        + f'msgid "{{n}} a"\nmsgid_plural "{{n}} b"\n{forms}',
        "utf-8",
    )
    language = load_language(str(path))
    assert {n: language.plural("{n} a", "{n} b", n) for n in said} == said
    assert language("{n} a") == said[1]
    assert language.plural("a {n}", "b {n}", 5) == "b {n}", "English where there is none"


def test_a_catalogue_of_ones_own(tmp_path: Path) -> None:
    path = tmp_path / "words.po"
    path.write_text(
        HEAD.replace('"Plural', '"X-Decimal-Mark: ,\\n"\n"X-Joined: de o=do\\n"\n"Plural')
        + 'msgid "Hold at {what}."\nmsgstr "Segure perto de {what}."\n\n'
        + 'msgid "the corner"\nmsgstr "o canto"\n\n'
        + 'msgid "{n} step"\nmsgid_plural "{n} steps"\nmsgstr[0] "um passo"\nmsgstr[1] "{n} passos"\n',
        "utf-8",
    )
    language = load_language(str(path))
    assert (language.tag, language.decimal_mark) == ("qaa", ",")
    hold = phrase("Hold at {what}.", what=Phrase("the corner"))
    assert hold.render(language) == "Segure perto do canto."
    assert plural("{n} step", "{n} steps", 1).render(language) == "um passo"


def test_a_catalogue_that_is_not_there() -> None:
    with pytest.raises(FoldscriptError) as error:
        load_language("nowhere/words.po")
    assert error.value.diagnostics[0].code == "cannot-read"


@pytest.mark.parametrize("said", ["e", "1", "es_", "a b", "../es", "es-toolongtoolong"])
def test_what_is_no_language(said: str) -> None:
    with pytest.raises(FoldscriptError) as error:
        load_language(said)
    assert error.value.diagnostics[0].code == "bad-language"
