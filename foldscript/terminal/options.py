"""What several commands ask for in the same words: their arguments and options.

In: the few words that differ. Out: click's decorators, and a way to tell that an argument is wrong. A
command's function takes them by these names: `paths`, `out`, `page`, `style`, `language`, `languages`,
`formats`, `fresh`, `jobs`, `shard`.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path

import click
from click.core import ParameterSource

from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.showing import shown
from .jobs import cores
from .sharding import Shard

#: Adds an argument or an option to a command's function.
Decorator = Callable[[Callable[..., None]], Callable[..., None]]


def file(name: str, metavar: str = "FILE", dash: bool = False) -> Decorator:
    """One file that there is; with `dash`, `-` stands for standard input."""
    kind = click.Path(exists=True, dir_okay=False, path_type=Path, allow_dash=dash)
    return click.argument(name, metavar=metavar, type=kind)


def paths(metavar: str, required: bool = True, dash: bool = False) -> Decorator:
    """Files and folders that there are; with `dash`, `-` stands for standard input."""
    kind = click.Path(exists=True, path_type=Path, allow_dash=dash)
    return click.argument("paths", metavar=metavar, nargs=-1, required=required, type=kind)


def out(what: str) -> Decorator:
    """Where to write; `what` gets a place of its own there ('each model gets a folder of its own')."""
    return click.option(
        "--out",
        type=click.Path(file_okay=False, path_type=Path),
        default=Path("out"),
        show_default=True,
        help=f"Folder to write into; {what} there.",
    )


def page(what: str, default: str | None = "A4") -> Decorator:
    """A size of paper; '' where none is said and there is no default."""
    return click.option(
        "--page", default=default or "", show_default=bool(default), metavar="SIZE", help=what
    )


def style(what: str, default: str | None = "colour") -> Decorator:
    """A look; '' where none is said and there is no default."""
    return click.option(
        "--style",
        default=default or "",
        show_default=bool(default),
        metavar="NAME|FILE",
        help=what,
    )


def one_language(what: str, default: str) -> Decorator:
    """One language, '' where none is said; `default` tells which one it is then."""
    return click.option(
        "--language", default="", metavar="TAG", help=f"{what}: es, fr, ...  [default: {default}]"
    )


def languages(what: str, default: str) -> Decorator:
    """Several languages, as they were said; `default` tells which they are when none is."""
    return click.option(
        "--language",
        "languages",
        multiple=True,
        metavar="TAG[,TAG...]|all",
        help=f"{what}  [default: {default}]",
    )


#: Languages of what is written into folders.
LANGUAGES = languages(
    "Languages to make it in, each in a folder of its own: es, fr, ..., or all; may be repeated; "
    "or a catalogue file (*.po) of your own.",
    "the file's own",
)
FRESH = click.option(
    "--fresh", is_flag=True, help="Make everything anew, also what has not changed since last time."
)


class _ShardType(click.ParamType[Shard]):
    """'2/8'."""

    name = "shard"

    def convert(
        self, value: str | Shard, param: click.Parameter | None, ctx: click.Context | None
    ) -> Shard:
        if isinstance(value, Shard):
            return value
        found = Shard.read(value)
        if found is None:
            self.fail(f"'{value}' is no share; write K/N, say 2/8 for the second of eight.")
        return found


def jobs(what: str) -> Decorator:
    """How many things to do at once."""
    return click.option(
        "--jobs",
        type=click.IntRange(1, 256),
        default=cores,
        metavar="N",
        help=f"{what}  [default: one a processor core]",
    )


JOBS = jobs("How many processes work at once: each on a file, or on figures of one.")
SHARD = click.option(
    "--shard",
    type=_ShardType(),
    default="1/1",
    metavar="K/N",
    help="Only share K of N of the files, by their names: for many machines with one share each.",
)


def formats(what: str, default: str, said: Iterable[str] = ()) -> Decorator:
    """What to make; `default` tells what that is when nothing is said, `said` gives it."""
    return click.option(
        "--format",
        "formats",
        multiple=True,
        default=tuple(said),
        metavar="NAME[,NAME...]",
        help=f"What to make{what}; may be repeated.  [default: {default}]",
    )


def formats_among(asked: Iterable[str], known: Collection[str]) -> list[str]:
    """The formats named, each once. Raises click's BadParameter for one that does not exist."""
    wanted = [name.strip().casefold() for text in asked for name in text.split(",")]
    wanted = list(dict.fromkeys(name for name in wanted if name))
    for name in wanted:
        if name not in known:
            near = "".join(f" Did you mean {word}?" for word in get_close_matches(name, known, n=1))
            raise click.BadParameter(
                f"there is no format '{name}'.{near} Formats: {', '.join(known)}.",
                param_hint="--format",
            )
    if not wanted:
        raise click.BadParameter(f"name one of {', '.join(known)}.", param_hint="--format")
    return wanted


@contextmanager
def checked() -> Iterator[None]:
    """What is wrong with an argument is told as misuse of the command."""
    try:
        yield
    except FoldscriptError as error:
        raise click.UsageError(shown(f"{_as_misuse(error)}{_from_settings()}")) from error


def _from_settings() -> str:
    """' (settings: page A44)' for what the command takes from a settings file; '' where it takes nothing."""
    context = click.get_current_context(silent=True)
    if context is None:
        return ""
    taken = [
        f"{name} {', '.join(value) if isinstance(value, tuple) else value}"
        for name, value in context.params.items()
        if context.get_parameter_source(name) is ParameterSource.DEFAULT_MAP
    ]
    return f" (from the settings file: {'; '.join(taken)})" if taken else ""


def _as_misuse(error: FoldscriptError) -> str:
    """A diagnostic about an argument, in one paragraph; with its place where it stands in a file."""
    return "; ".join(
        "; ".join((f"{_place(fault)}{fault.message}", *(hint.text for hint in fault.hints)))
        for fault in error.diagnostics
    )


def _place(fault: Diagnostic) -> str:
    if fault.source is None or fault.span is None:
        return ""
    line, column = fault.source.position(fault.span.start)
    return f"{fault.source.name}:{line}:{column}: "
