"""What `import foldscript` offers: few names, all documented, typed, and imported when they are used."""

from __future__ import annotations

import ast
import inspect
import re
import subprocess
import sys
from pathlib import Path

import pytest

import foldscript

from .command import CARD, script


def test_all_names_are_there_and_documented() -> None:
    for name in foldscript.__all__:
        if name != "__version__":
            assert inspect.getdoc(getattr(foldscript, name)), name
    assert set(foldscript.__all__) <= set(dir(foldscript))


def test_names_are_the_same_for_readers_of_types() -> None:
    """What is imported for type checkers is what is imported when it is used."""
    module = ast.parse(Path(foldscript.__file__).read_text("utf-8"))
    typed = {
        alias.name: f"foldscript.{node.module}"
        for node in ast.walk(module)
        if isinstance(node, ast.ImportFrom) and node.level
        for alias in node.names
    }
    assert set(typed) == set(foldscript.__all__) - {"__version__"}
    for name, home in typed.items():
        assert getattr(foldscript, name) is getattr(sys.modules[home], name)


def test_there_is_nothing_else() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'unfold'"):
        _ = foldscript.unfold  # type: ignore[attr-defined]


def test_importing_it_imports_nothing_else() -> None:
    code = "import sys, foldscript; print([m for m in sys.modules if m.startswith('foldscript.')])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_the_stages(tmp_path: Path) -> None:
    one = foldscript.read(script(tmp_path))
    assert one.source.text == CARD
    model = foldscript.fold(one, language="es")
    assert (model.language, len(model.steps)) == ("es", 3)
    figures = foldscript.draw(model, style="grey", page="A5")
    assert [figure.label for figure in figures] == ["1–2", "3"]
    other = foldscript.draw(model, page="A3")[0].scene
    assert (figures[0].scene.width, figures[0].scene.height) != (other.width, other.height)


def test_building(tmp_path: Path) -> None:
    path = script(tmp_path)
    built = foldscript.build(str(path), tmp_path / "out", ["svg"], languages=["en", "es"])
    folder = tmp_path / "out" / "card"
    assert built.files[0] == folder / "en" / "card-01.svg"
    assert {file.parent.name for file in built.files} == {"en", "es"}
    assert foldscript.build(path, tmp_path / "out", ["svg"], languages=["en", "es"]).unchanged


@pytest.mark.parametrize(
    ("text", "wanted", "code"),
    [
        (CARD.replace("turn over", "turn ovr"), {}, "unknown-word"),
        (CARD, {"formats": ["doc"]}, "unknown-format"),
        (CARD, {"style": "plaid"}, "unknown-style"),
        (CARD, {"page": "A99"}, "unknown-page-size"),
        (CARD, {"languages": ["nonsense!"]}, "bad-language"),
    ],
)
def test_what_is_wrong(tmp_path: Path, text: str, wanted: dict[str, str], code: str) -> None:
    path = script(tmp_path, text=text)
    with pytest.raises(foldscript.FoldscriptError) as caught:
        foldscript.build(path, tmp_path / "out", **wanted)  # type: ignore[arg-type]
    assert caught.value.diagnostics[0].code == code
    assert not (tmp_path / "out").exists()


def test_a_text_without_a_file(tmp_path: Path) -> None:
    model = foldscript.fold(foldscript.parse(CARD))
    assert [step.number for step in model.steps] == [1, 2, 3]
    (tmp_path / "card.foldscript").write_text(CARD, "utf-8")
    more = 'start from "card.foldscript"\nstep\n  turn over\n'
    beside = foldscript.parse(more, str(tmp_path / "more.foldscript"))
    assert isinstance(foldscript.fold(beside).finished, foldscript.State)
    with pytest.raises(foldscript.FoldscriptError) as error:
        foldscript.parse("step\n  vally A to C\n", "wrong.foldscript")
    (fault,) = error.value.diagnostics
    assert fault.source is not None
    assert (fault.code, fault.source.name) == ("unknown-word", "wrong.foldscript")


def test_the_words_of_the_glossary_lie_where_it_says() -> None:
    text = (Path(__file__).parents[1] / "docs/glossary.md").read_text("utf-8")
    places = re.findall(r"`([\w/]+(?:/|\.py))`", text)
    assert len(places) > 20
    for place in places:
        assert (Path(foldscript.__file__).parent / place).exists(), place
