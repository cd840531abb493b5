"""The manual page says what `--help` says, in lines that a reader of manual pages takes."""

from __future__ import annotations

import re

import click

from foldscript.cli import command
from foldscript.terminal.manual import manual

PAGE = manual(command, "foldscript", "1.2")


def plain(page: str) -> str:
    """The page's words without its macros."""
    rows = (re.sub(r"^\.(SH|SS|B|TH) ", "", row) for row in page.splitlines())
    return "\n".join(rows).replace("\\-", "-").replace("\\&", "").replace("\\e", "\\")


def test_every_command_and_option_is_told() -> None:
    words = plain(PAGE)
    context = click.Context(command, info_name="foldscript")
    assert len(command.list_commands(context)) > 10
    for name in command.list_commands(context):
        told = command.get_command(context, name)
        assert told is not None
        assert f"foldscript {name} [OPTIONS]" in words
        for option in told.params:
            if isinstance(option, click.Option) and not option.hidden:
                assert option.opts[0] in words


def test_sections_and_exit_codes() -> None:
    heads = re.findall(r"^\.SH (.*)$", PAGE, re.MULTILINE)
    assert heads == ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "COMMANDS", "EXIT CODES"]
    assert "1 a model is wrong" in plain(PAGE)


def test_examples_keep_their_lines_and_words_are_no_macros() -> None:
    @click.group(help="Does it.\n\n.not a macro\n\n\b\nExamples:\n  a \\d --b\n")
    def group() -> None:
        pass

    page = manual(group, "it", "1")
    assert "\n\\&.not a macro\n" in page
    assert "\n.nf\nExamples:\n  a \\ed \\-\\-b\n.fi\n" in page
    known = {"TH", "SH", "SS", "PP", "TP", "B", "nf", "fi"}
    for text in (page, PAGE):
        assert {row[1:].split(" ")[0] for row in text.splitlines() if row[:1] == "."} <= known
