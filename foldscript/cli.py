"""The command `foldscript`: reads what was asked, runs the stages, says how it went.

In: arguments. Out: files, a line a model on standard output, diagnostics on standard error, and one
of the exit codes below. Further commands are modules of `commands/`. The stages are imported
only when a command runs, so that `--version` and `--help` answer at once.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable
from functools import partial
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from . import __version__
from .source.diagnostics import Diagnostic
from .source.showing import shown
from .terminal import options
from .terminal.completing import Values, with_completion
from .terminal.jobs import Doing, Told
from .terminal.running import count, run, run_each
from .terminal.sharding import Shard
from .terminal.telling import tell, with_telling

if TYPE_CHECKING:
    from .building.handout import BuildOptions

_UNCHANGED = " (unchanged)"
_UNFINISHED = "add --unfinished to see the steps before what is wrong drawn"
#: What a command ends with, and when.
EXIT_CODES: tuple[tuple[int, str], ...] = (
    (0, "all is well"),
    (1, "a model is wrong, or something could not be read or written"),
    (2, "the command was used wrongly"),
    (3, "something has changed (changes --exit-code)"),
)


class _Group(click.Group):
    """The commands written here, and those of `foldscript.commands`, a module each."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        from .commands import command_names

        return sorted({*super().list_commands(ctx), *command_names()})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        from .commands import load_command

        found = super().get_command(ctx, cmd_name) or load_command(cmd_name)
        if found is None:
            return None
        values = {**_VALUES, "--format": _bound} if cmd_name == "booklet" else _VALUES
        return with_completion(with_telling(found), values)


def _formats() -> Iterable[str]:
    from .output.formats import format_names

    return format_names()


def _bound() -> Iterable[str]:
    from .building.booklet.plan import FORMATS

    return FORMATS


def _styles() -> Iterable[str]:
    from .drawing.style.styles import style_names

    return style_names()


def _papers() -> Iterable[str]:
    from .pages.sizes import PAGE_SIZES

    return (size.name for size in PAGE_SIZES)


def _languages() -> Iterable[str]:
    from .languages.language import languages

    return languages()


#: What shells offer after an option.
_VALUES: dict[str, Values] = {
    "--format": _formats,
    "--from": _papers,
    "--language": _languages,
    "--page": _papers,
    "--style": _styles,
}


@click.group(
    cls=_Group,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=f"Exit codes: {', '.join(f'{code} {when}' for code, when in EXIT_CODES)}.",
)
@click.version_option(__version__, message="%(prog)s %(version)s", prog_name="foldscript")
@click.option(
    "--settings",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    default=None,
    metavar="FILE",
    help="Settings file to use.  [default: the nearest foldscript.toml, or pyproject.toml with a table "
    "tool.foldscript, from this folder upwards]",
)
@click.option("--no-settings", is_flag=True, help="Use no settings file.")
@click.pass_context
def command(context: click.Context, settings: Path | None, no_settings: bool) -> None:
    """Folds paper from a script and draws the steps.

    A script is a text file (*.foldscript) that tells how to fold one model. foldscript folds it in a
    simulation of flat paper and draws numbered, printable steps.

    \b
    Examples:
      foldscript build cup.foldscript          draw one model into out/cup/
      foldscript build samples --format pdf    a handout for every script in a folder
      foldscript check samples                 only see whether everything folds
      foldscript booklet club.toml             bind several models together
      foldscript new cup.foldscript            begin a script of your own
    """
    if no_settings:
        return
    from .terminal.settings import nearest, read_settings

    with options.checked():
        found = nearest(Path.cwd()) if settings is None else read_settings(settings)
    if found is not None:
        context.default_map = found.defaults(command.list_commands(context))


class _ListsFormats(click.Command):
    """A command whose help ends with what each output format is."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        super().format_options(ctx, formatter)
        from .output.formats import format_names, load_format

        with formatter.section("Formats"):
            formatter.write_dl([(name, load_format(name).SUMMARY) for name in format_names()])


@command.command(cls=_ListsFormats)
@options.paths("FILE|FOLDER...")
@options.out("each model gets a folder of its own")
@options.formats(", of the formats below", "svg,pdf", ("svg,pdf",))
@options.page("Paper of the handout: A4, A5, Letter, ..., or 'A4 landscape'.")
@options.style("Look of the drawings: a style's name, or a style file of your own.")
@options.FRESH
@click.option(
    "--unfinished",
    is_flag=True,
    help="Of a model that is wrong, draw the steps before that, and say on the page what is wrong.",
)
@options.LANGUAGES
@options.JOBS
@options.SHARD
def build(
    paths: tuple[Path, ...],
    out: Path,
    formats: tuple[str, ...],
    page: str,
    style: str,
    fresh: bool,
    unfinished: bool,
    languages: tuple[str, ...],
    jobs: int,
    shard: Shard,
) -> None:
    """Fold the models and draw them.

    A folder stands for every *.foldscript file in it. A model that is wrong is reported and leaves
    its earlier output as it was, unless its steps up to there are wanted; the others are drawn all the same.

    \b
    Examples:
      foldscript build cup.foldscript
      foldscript build samples --out handouts --page Letter
      foldscript build cup.foldscript --format svg,png
      foldscript build cup.foldscript --language es,fr
      foldscript build cup.foldscript --unfinished
    """
    from .building import handout
    from .output.formats import format_names

    names = options.formats_among(formats, format_names())
    with options.checked():
        wanted = handout.build_options(names, page, style, fresh, languages, unfinished)
    advice = "" if unfinished else _UNFINISHED
    work = partial(_built, out=out, wanted=wanted)
    run_each(paths, work, jobs=jobs, shard=shard, advice=advice)


def _built(script: Path, doing: Doing, *, out: Path, wanted: BuildOptions) -> Told:
    from .building import handout

    built = handout.build(script, out, wanted, doing)
    if not built.files:
        return "", built.notes
    folder = os.path.commonpath([file.parent for file in built.files])
    where = f"{folder}{os.sep}{_UNCHANGED if built.unchanged else ''}"
    return shown(f"{script}: {count(len(built.files), 'file')} in {where}"), built.notes


@command.command()
@options.file("file")
@options.out("the booklet gets a folder of its own")
@options.page(
    "Size of a page, whatever the booklet file says: A5, A4, Letter, Half letter, ...", None
)
@options.style("Look of the pages, whatever the booklet file says.", None)
@click.option(
    "--imposed",
    is_flag=True,
    help="With the PDF also make sheets with two pages side by side, to be folded and stapled.",
)
@click.option(
    "--creep",
    type=click.FloatRange(0, 1),
    default=None,
    metavar="MM",
    help="Thickness of the paper: inner pages of such sheets are moved to the spine by so much a sheet, "
    "to have even margins once the outer edge is trimmed.  [default: what the booklet file says, or 0]",
)
@options.formats(": pdf, slides", "what the booklet file says, or pdf")
@options.FRESH
@options.LANGUAGES
@options.jobs("How many models to draw at once; those of several languages share one process.")
def booklet(
    file: Path,
    out: Path,
    page: str,
    style: str,
    imposed: bool,
    creep: float | None,
    formats: tuple[str, ...],
    fresh: bool,
    languages: tuple[str, ...],
    jobs: int,
) -> None:
    """Bind several models into one PDF, or into slides.

    FILE is a TOML file that lists the models and says what stands on the cover. The PDF has a cover,
    contents, one key of all the signs, the models, and a page of credits and licences. Slides are a
    web page with one step a screen that works without a network: contents first, then the models.

    \b
    A booklet file:
      title = "Paper on the Quay"
      models = ["cup.foldscript", "hat.foldscript"]

    \b
    Examples:
      foldscript booklet club.toml
      foldscript booklet club.toml --imposed --page "Half letter"
      foldscript booklet club.toml --style large --page A4 --out large
      foldscript booklet club.toml --format pdf,slides
    """
    from .building import binding
    from .building.booklet.plan import FORMATS

    names = options.formats_among(formats, FORMATS) if formats else []
    if imposed and names and "pdf" not in names:
        raise click.UsageError("--imposed goes with the format pdf.")
    with options.checked():
        wanted = binding.booklet_options(page, style, imposed, fresh, languages, names, creep, jobs)

    def work(path: Path, doing: Doing) -> Told:
        bound = binding.bind(path, out, wanted, doing)
        folder, same = out / file.stem, _UNCHANGED if bound.unchanged else ""
        lines = (shown(f"{folder}{os.sep}{line}{same}") for line in bound.lines)
        return "\n".join(lines), bound.notes

    run([file], [], work)


@command.command()
@options.paths("FILE|FOLDER|-...", dash=True)
@options.JOBS
@options.SHARD
def check(paths: tuple[Path, ...], jobs: int, shard: Shard) -> None:
    """Fold the models and draw nothing: does every step work?

    Translations in side files are read, too; a booklet's file stands for its models.

    \b
    Examples:
      foldscript check cup.foldscript
      foldscript check samples
      foldscript check --strict --message-format github samples
      cat cup.foldscript | foldscript check -
    """
    from .building.checking import scripts_of

    scripts, faults = scripts_of(paths)
    run(shard.of(scripts), faults, _checked, jobs=jobs)


def _checked(path: Path, doing: Doing) -> Told:
    from .building.checking import checked

    steps, notes = checked(path, doing)
    return shown(f"{path}: folds, {count(steps, 'step')}"), notes


@command.command()
@options.file("script", "FILE|-", dash=True)
def states(script: Path) -> None:
    """Print the folded paper after every step as JSON.

    For other programs to read; in a form of foldscript's own, lengths in millimetres.

    \b
    Example:
      foldscript states cup.foldscript > cup.json
    """
    from .building.script import Script
    from .output.states import states_json

    def work(path: Path, doing: Doing) -> Told:
        read = Script(path, doing)
        return states_json(read.standing_model), read.standing.warnings

    run_each((script,), work, answer=True)


def main() -> NoReturn:
    """Runs the command; whatever goes wrong, no one sees a traceback unless they ask for it."""
    # Paper is immutable data without cycles: looking for them at every 700 new values finds none.
    gc.set_threshold(50_000, 20, 50)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    try:
        command(prog_name="foldscript")
    except Exception as error:
        from .source.reporting import internal_fault

        if isinstance(error, OSError):
            # What is still waiting to be printed goes nowhere, or it would fail again at exit.
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            reason = (error.strerror or str(error)).lower()
            fault = Diagnostic("cannot-write", f"cannot write what should be printed: {reason}")
        else:
            fault = internal_fault(None, error)
        tell([fault])
    sys.exit(1)
