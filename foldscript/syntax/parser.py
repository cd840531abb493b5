"""Text to `Program`: a script is read line by line, and every line's mistake is collected.

In: a `Source` and the verbs that moves are spelt with. Out: a `Program`, or one error that carries
all diagnostics in the order of the text. Each line is read on its own, so one mistake hides no other.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import partial
from itertools import islice

from ..source.diagnostics import Diagnostic, FoldscriptError, Refusal, Source, Span
from ..source.reading import LARGEST_FILE
from .grammar import load_grammar
from .moves import words_as_names
from .nodes import Program, Statement
from .rewording import reworded
from .script_lines import cut_lines, token_span
from .script_reader import MOST_MISTAKES, ScriptReader
from .whole_lines import Lines, Setting

#: Words, commas and line ends in a script.
MOST_WORDS = 150_000


def parse(source: Source, verbs: Mapping[str, str]) -> Program:
    """Reads a script.

    Parameters
    ----------
    source : the script
    verbs : every spelling a move may open a line with ('valley', 'turn over'), and a hint how it is said
        where its words are often guessed, '' elsewhere

    Raises
    ------
    FoldscriptError : with every diagnostic found, in the order of the text
    """
    program, found = parse_all(source, verbs)
    if found:
        raise FoldscriptError(*found)
    return program


def parse_all(source: Source, verbs: Mapping[str, str]) -> tuple[Program, tuple[Diagnostic, ...]]:
    """What of a script can be read, without the lines that cannot, and every diagnostic found.

    Raises FoldscriptError where the text is too long to be a script.
    """
    if len(source.text) > LARGEST_FILE:
        raise FoldscriptError(
            Diagnostic("file-too-long", "no script is as long as this", source=source)
        )
    grammar = load_grammar()
    reader = ScriptReader(source, grammar, verbs)
    reader.reword = partial(_reworded, reader)
    tokens = list(islice(grammar.lex(source.text), MOST_WORDS + 1))
    if len(tokens) > MOST_WORDS:
        raise FoldscriptError(
            Diagnostic(
                "file-too-long",
                f"no script has more than {MOST_WORDS} words",
                token_span(tokens[-1]),
                source=source,
            )
        )
    reader.counts.update(str(t) for t in tokens if t.type == "NAME")
    openers = frozenset(verb.split()[0] for verb in verbs)
    lines = list(cut_lines(tokens, openers))
    reader.named.update(name for line in lines for name in line.given_names())
    for line in lines:
        reader.take(line)
        if len(reader.found) >= MOST_MISTAKES or reader.full:
            break
    return reader.finish(), tuple(reader.found)


def read_lines(
    lines: Lines,
    verbs: Mapping[str, str],
    names: Collection[str] | None = None,
    given: Collection[str] = (),
) -> Program | None:
    """A script of these lines, for a trial; None where they cannot be read.

    With `names`, those of the script, a word that is no name there is none here; `given` are names that are
    not taken for misspelt words.
    """
    source = Source("", "\n".join(lines))
    reader = ScriptReader(source, load_grammar(), verbs)
    reader.counts.update(dict.fromkeys(given, 2))  # a word that stands once is looked at
    openers = frozenset(verb.split()[0] for verb in verbs)
    for line in cut_lines(reader.grammar.lex(source.text), openers):
        if names is not None and any(
            name not in names for name in words_as_names(line.without_article(), verbs)
        ):
            return None
        reader.take(line)
    program = reader.finish()
    return None if reader.found else program


def statements(
    lines: Lines, verbs: Mapping[str, str], names: Collection[str] = ()
) -> tuple[Statement, ...]:
    """What lines of one step say, for a trial; none where they cannot be read.

    `names` : those that are given, which no word of the language is taken for
    """
    program = read_lines(lines if lines[0] == "step" else ("step", *lines), verbs, given=names)
    return program.steps[0].body if program is not None and len(program.steps) == 1 else ()


def _reworded(reader: ScriptReader, refusal: Refusal, span: Span) -> Refusal:
    """The refusal of a line, with the same in words that can be read where they are known."""
    inside = reader.block is not None
    names = reader.given_names()
    setting = Setting(
        reader.head.corners(), len(reader.steps), inside, names, reader.head.corner_at_the_bottom()
    )

    def reads(row: Lines) -> bool:
        before = () if row[0].startswith("step") or not inside else ("step",)
        after = ("turn over",) if before or row[0].startswith("step") else ("step", "turn over")
        return read_lines((*before, *row, *after), reader.verbs, names) is not None

    better = reworded(refusal, reader.source, span, setting, reads, reader.body)
    first = better.hints[0].edit if better.hints else None
    if not inside and first is not None and first.text.startswith("step"):
        reader.begin_step(span)
    return better
