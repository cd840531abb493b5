"""What a shell is offered after an option, asked as shells ask: by click's completion."""

from __future__ import annotations

import pytest
from click.shell_completion import ShellComplete

from foldscript.cli import command
from foldscript.drawing.style.styles import load_style, style_names
from foldscript.languages.language import languages
from foldscript.output.formats import format_names
from foldscript.pages.sizes import PAGE_SIZES, page_size


def offered(*words: str) -> list[str]:
    """Values offered for the last of the words."""
    found = ShellComplete(command, {}, "foldscript", "_FOLDSCRIPT_COMPLETE").get_completions(
        list(words[:-1]), words[-1]
    )
    return [item.value if item.type == "plain" else f"<{item.type}>" for item in found]


def test_all_values_of_an_option_are_offered() -> None:
    assert offered("build", "--format", "") == list(format_names())
    assert offered("build", "--style", "") == list(style_names())
    assert offered("build", "--language", "") == list(languages())
    assert len(offered("build", "--page", "")) == len(PAGE_SIZES)


@pytest.mark.parametrize(
    ("words", "values"),
    [
        (("plan", "--page", "a"), ["A3", "A4", "A5", "A6"]),
        (("plan", "--from", "half"), ["Half-letter"]),
        (("plan", "--format", ""), ["pdf", "json", "text"]),
        (("booklet", "--format", ""), ["pdf", "slides"]),
        (("booklet", "--format", "pdf,"), ["pdf,slides"]),
        (("build", "--format", "svg,pn"), ["svg,png"]),
        (("signs", "--language", "es,f"), ["es,fr"]),
        (("preview", "--language", "n"), ["nl"]),
        (("preview", "--style", "g"), ["grey"]),
        (("preview", "--style", "own/"), ["<file>"]),
        (("build", "--page", "nothing"), []),
    ],
)
def test_what_is_begun_is_completed(words: tuple[str, ...], values: list[str]) -> None:
    found = offered(*words)
    assert [value for value in found if value in values] == values
    assert all(
        value.casefold().startswith(words[-1].casefold()) or value == "<file>" for value in found
    )


def test_what_is_offered_is_taken() -> None:
    for name in offered("build", "--page", ""):
        assert page_size(name) in PAGE_SIZES
    for name in offered("build", "--style", ""):
        assert load_style(name).name == name


def test_commands_and_options_are_offered_too() -> None:
    assert {"build", "check", "preview", "manual"} <= set(offered(""))
    assert "--page" in offered("build", "--p")
