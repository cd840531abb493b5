"""What the language's reference says about other languages is so: its script, its side file, the order."""

from __future__ import annotations

import re
from pathlib import Path

from foldscript.captions.speaking import in_language
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.languages.language import load_language
from foldscript.moves.registry import verbs
from foldscript.source.reading import read_script
from foldscript.syntax.parser import parse

REFERENCE = (Path(__file__).parents[2] / "grammar" / "README.md").read_text("utf-8")
SECTION = REFERENCE.partition("\n## Other languages\n")[2].partition("\n## ")[0]


def block(kind: str) -> str:
    (found,) = re.findall(rf"^```{kind}\n(.*?)^```$", SECTION, re.MULTILINE | re.DOTALL)
    return found


def model(folder: Path, tag: str, warnings: int = 0) -> Model:
    """The section's script, with its side file, in a language."""
    script = folder / "two.foldscript"
    script.write_text(block("foldscript"), "utf-8")
    (folder / "two.fr.toml").write_text(block("toml"), "utf-8")
    folded = fold(parse(read_script(script), verbs()), script)
    said, told = in_language(folded, script, load_language(tag))
    assert len(told) == warnings
    return said


def captions(said: Model) -> list[str]:
    speech = said.speech
    return [s.caption or " ".join(p.render(speech) for p in s.wording) for s in said.steps]


def test_in_the_script(tmp_path: Path) -> None:
    for tag in ("es", "es-MX"):
        spanish = model(tmp_path, tag)
        assert (spanish.title, spanish.notes) == ("Dos idiomas", ("Mejor con papel fino.",))
        assert captions(spanish) == [
            "Dobla por la mitad.",
            "Da la vuelta al modelo de lado a lado.",
            "Mira qué bonito.",
        ]


def test_in_a_side_file(tmp_path: Path) -> None:
    french = model(tmp_path, "fr")
    assert (french.title, french.notes) == ("Deux langues", ("De préférence en papier fin.",))
    assert captions(french) == [
        "Pliez en deux.",
        "Retournez le modèle de gauche à droite.",
        "Admirez-le.",
    ]


def test_what_is_not_translated(tmp_path: Path) -> None:
    """From the moves where foldscript speaks the language, else as the script says it."""
    dutch = model(tmp_path, "nl")
    assert (dutch.title, dutch.notes) == ("Two languages", ("Thin paper is best.",))
    assert captions(dutch) == [
        "Vouw de onderrand omhoog naar de bovenrand.",
        "Keer het model om, van links naar rechts.",
        "Admire it.",
    ]
    polish = model(tmp_path, "pl", warnings=1)
    assert captions(polish)[::2] == ["Fold in half.", "Admire it."]


def test_the_languages_named_are_those_that_foldscript_speaks() -> None:
    from foldscript.languages.language import languages

    named = re.findall(r"\(`([a-z]{2})`\)", SECTION)
    assert sorted(["en", *named]) == sorted(languages())
