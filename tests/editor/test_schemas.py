"""The JSON schemas of TOML files say what foldscript reads: all samples pass, wrong keys and values fail."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from foldscript.building.booklet.file import read_booklet
from foldscript.drawing.style.styles import load_style
from foldscript.editor import schemas
from foldscript.source.diagnostics import FoldscriptError
from foldscript.terminal.settings import read_settings

from .speaking import SAMPLES

STYLES = Path(schemas.__file__).parents[1] / "drawing/style"


def faults(kind: str, text: str) -> list[str]:
    schema = json.loads((schemas.FOLDER / f"{kind}.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    found = Draft202012Validator(schema).iter_errors(tomllib.loads(text))
    return [error.message for error in found]


@pytest.mark.parametrize("name", sorted(schemas.schemas()))
def test_the_files_are_made_from_what_reads(name: str) -> None:
    """Made anew by: python -m foldscript.editor.schemas."""
    made = schemas.text(schemas.schemas()[name])
    assert (schemas.FOLDER / name).read_text(encoding="utf-8") == made


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.name)
def test_the_samples_pass(path: Path) -> None:
    """Each names the schema that it passes in its first line, as editors read it."""
    text = path.read_text(encoding="utf-8")
    named = path.parent / text.splitlines()[0].removeprefix("#:schema ")
    assert named.resolve().parent == schemas.FOLDER
    assert faults(named.name.removesuffix(".schema.json"), text) == []


@pytest.mark.parametrize("path", sorted(STYLES.glob("*.toml")), ids=lambda path: path.name)
def test_the_styles_pass_but_for_what_only_shipped_ones_say(path: Path) -> None:
    assert faults("style", path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("booklet", 'title = "x"\nmodels = ["a"]\npublsher = "me"\n'),
        ("booklet", 'title = "x"\nmodels = "a"\n'),
        ("booklet", 'models = ["a"]\n'),
        ("booklet", 'title = "x"\nmodels = ["a"]\norder = "size"\n'),
        ("booklet", 'title = "x"\nmodels = ["a"]\ncreep = 4\n'),
        ("booklet", 'title = "x"\nmodels = ["a"]\n[es]\ntitel = "y"\n'),
        ("booklet", 'title = "x"\nmodels = ["a"]\n[cover]\nfigure = []\n'),
        ("style", 'based_on = "pink"\n'),
        ("style", '[colours]\nsign = "red"\n'),
        ("style", "[roles]\nnothing = { width = 1 }\n"),
        ("style", '[roles]\n"fold.valley" = { widht = 1 }\n'),
        ("style", "[roles.fold.valley]\nwidth = 100\n"),
        ("settings", 'pages = "A4"\n'),
        ("settings", "page = 4\n"),
        ("settings", "languages = [1]\n"),
        ("side-file", 'name = "x"\n'),
        ("side-file", '[steps]\nfirst = "x"\n'),
        ("side-file", '[steps]\n1 = { off = "x", says = "y" }\n'),
    ],
)
def test_what_foldscript_refuses_fails(kind: str, text: str, tmp_path: Path) -> None:
    assert faults(kind, text) != []
    path = tmp_path / f"{kind}.toml"
    path.write_text(text, encoding="utf-8")
    readers = {"booklet": read_booklet, "style": load_style, "settings": read_settings}
    if kind in readers:
        with pytest.raises(FoldscriptError):
            readers[kind](path)


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (
            "booklet",
            'title = "x"\nmodels = ["."]\nlanguage = ["en", "pt-BR"]\n[pt-BR]\ntitle = "y"\n',
        ),
        ("booklet", 'title = "x"\nmodels = ["."]\nkey = false\nformat = ["pdf", "slides"]\n'),
        ("style", '[roles]\n"fold.valley" = { width = 1.1, stroke = "none" }\n'),
        ("style", "[roles.fold.valley]\nwidth = 1\n[shades]\nplain = [0.1, 0.2]\n"),
        ("settings", 'page = "Letter"\nformats = "pdf"\nlanguages = ["en", "es"]\nout = "x"\n'),
        ("side-file", 'title = "x"\n[steps]\n1 = "a"\n2 = { of = "b", says = "c" }\n'),
    ],
)
def test_what_foldscript_reads_passes(kind: str, text: str) -> None:
    assert faults(kind, text) == []
