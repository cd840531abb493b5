"""The manual page: what `--help` says of every command, as one page for `man`.

In: a group of click commands. Out: a page in the macros of man(7): the help's paragraphs, examples as they
stand there, options with what they mean, the commands one after the other, and what stands below the help.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from textwrap import dedent

import click

#: Begins a paragraph whose line breaks are kept, in click's help texts.
_AS_IT_IS = "\b"


def manual(group: click.Group, name: str, version: str) -> str:
    """The page of a command with all its sub-commands; what stands below its help comes last."""
    context = click.Context(group, info_name=name)
    summary = group.get_short_help_str(200)
    lines = [
        f'.TH {_text(name).upper()} 1 "" "{_text(name)} {_text(version)}"',
        ".SH NAME",
        f"{_text(name)} \\- {_text(summary)}",
        ".SH SYNOPSIS",
        f".B {_text(name)}",
        _text(" ".join(group.collect_usage_pieces(context))),
        ".SH DESCRIPTION",
        *_paragraphs(group.help or ""),
        ".SH OPTIONS",
        *_options(group, context),
        ".SH COMMANDS",
    ]
    for word in group.list_commands(context):
        command = group.get_command(context, word)
        if command is None or command.hidden:
            continue
        inner = click.Context(command, info_name=word, parent=context)
        usage = " ".join(command.collect_usage_pieces(inner))
        lines += [f".SS {_text(name)} {_text(word)} {_text(usage)}"]
        lines += [*_paragraphs(command.help or ""), *_options(command, inner)]
    title, _, text = (group.epilog or "").partition(": ")
    if text:
        lines += [f".SH {_text(title).upper()}", *_paragraphs(text)]
    return "\n".join(lines) + "\n"


def _paragraphs(text: str) -> Iterator[str]:
    """A help text: paragraphs are filled, those that begin with a `\\b` stand as they are."""
    for paragraph in re.split(r"\n\s*\n", dedent(text).strip()):
        rows = paragraph.strip("\n").splitlines()
        yield ".PP"
        if rows and rows[0].strip() == _AS_IT_IS:
            yield from (".nf", *(_text(row) for row in rows[1:]), ".fi")
        else:
            yield from (_text(row.strip()) for row in rows)


def _options(command: click.Command, context: click.Context) -> Iterator[str]:
    for option in command.get_params(context):
        record = option.get_help_record(context)
        if record is not None and record[1]:
            flags, meaning = record
            yield from (".TP", f".B {_text(flags)}", _text(" ".join(meaning.split())))


def _text(text: str) -> str:
    """As troff takes it: no escapes, no line that is a request; a dash is one that can be copied."""
    text = text.replace("\\", "\\e").replace("-", "\\-")
    return re.sub(r"^(?=[.'])", r"\\&", text, flags=re.MULTILINE)
