"""The pages that are made from the code: the moves, the signs, the commands, the gallery.

In: foldscript itself. Out: pages in Markdown.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

import click

from foldscript.cli import EXIT_CODES, command
from foldscript.drawing.signs.key import meaning, sections
from foldscript.moves.registry import OF_SEVERAL, moves

from .examples import Example, example_of, examples
from .pictures import Picture, drawn, sign
from .showing import image, row

Page = tuple[str, list[Picture]]


def moves_page(uri: str) -> Page:
    """Every move: what it does, how it is written, and its paper before and after."""
    lines = [
        "# The moves",
        "Each move with what it does, how it may be written, and the paper before and after it, drawn from "
        "an example of [the language's page](language.md).",
    ]
    pictures: list[Picture] = []
    chapter = ""
    for verb, example in _in_order():
        if example.chapter != chapter:
            chapter = example.chapter
            lines.append(f"## {chapter}")
        shown = _before_and_after(verb, example)
        pictures += shown
        known = moves().get(verb)
        lines.append(f"### {verb}")
        if known is not None:
            lines.append(_sentence(known.summary))
            forms = "".join(f"<li><code>{escape(form)}</code></li>" for form in known.forms)
            lines.append(f'<ul class="forms">{forms}</ul>')
        else:
            lines.append("A statement that does others: see [repeats](language.md#repeats).")
        lines.append(row(shown, uri))
        title = example.script.program.head.title
        part = _anchor(example.section or example.chapter)
        lines.append(
            f"Example: *{title}*, in [{example.section or example.chapter}](language.md#{part})."
        )
    return _joined(lines), pictures


def _in_order() -> Iterator[tuple[str, Example]]:
    """Moves with their examples, as the reference has them."""
    place = {id(one): k for k, one in enumerate(examples())}
    verbs = [*moves(), *(verb for verb in OF_SEVERAL if verb != "do")]
    found = [(verb, example_of(verb)) for verb in verbs]
    yield from sorted(found, key=lambda pair: (place[id(pair[1])], pair[1].step_of(pair[0])))


def _before_and_after(verb: str, example: Example) -> list[Picture]:
    """The figures of the first step that makes the move, and the paper when it is done, if it is another."""
    step = example.step_of(verb)
    whole = step == len(example.script.program.steps)
    figures = drawn(example.text, 0 if whole else step)
    shown = [one for one in figures[:-1] if one.first <= step <= one.last] or list(figures[-2:-1])
    return [*shown, figures[-1]] if figures[-1].changed else shown


def _anchor(heading: str) -> str:
    return "".join(c for c in heading.lower().replace(" ", "-") if c.isalnum() or c == "-")


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def signs_page(uri: str) -> Page:
    """Every sign with its name and what it means."""
    lines = [
        "# The signs",
        "Lines, arrows and marks as they stand in the figures. `foldscript signs` prints them as a poster.",
    ]
    pictures: list[Picture] = []
    for heading, keys in sections():
        lines.append(f"## {heading}")
        cells = []
        for key in keys:
            one = sign(key)
            pictures.append(one)
            words = f"<b>{escape(one.caption)}</b><span>{escape(meaning(key))}</span>"
            cells.append(f"<li>{image(one, uri)}<div>{words}</div></li>")
        lines.append(f'<ul class="signs">{"".join(cells)}</ul>')
    return _joined(lines), pictures


def commands_page(uri: str) -> Page:
    """The help of every command, and the exit codes."""
    top = click.Context(command, info_name="foldscript", max_content_width=88)
    lines = ["# The commands", *_help(command, top)]
    lines += ["## Exit codes", "| code | when |\n|---|---|\n" + "\n".join(_exit_codes())]
    for name in command.list_commands(top):
        found = command.get_command(top, name)
        assert found is not None
        context = click.Context(found, info_name=name, parent=top, max_content_width=88)
        lines += [f"## {name}", *_help(found, context)]
    return _joined(lines), []


def _help(found: click.Command, context: click.Context) -> list[str]:
    return [f"```text\n{found.get_help(context)}\n```"]


def _exit_codes() -> Iterator[str]:
    for code, when in EXIT_CODES:
        yield f"| {code} | {when} |"


def _joined(lines: list[str]) -> str:
    return "\n\n".join(lines) + "\n"
