"""The command `foldscript plan`."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic
from ..source.showing import shown
from ..terminal import options
from ..terminal.running import Doing, run


@click.command("plan")
@options.paths("FILE|FOLDER|BOOKLET...")
@click.option(
    "--people",
    type=click.IntRange(1, 10_000),
    default=10,
    show_default=True,
    metavar="N",
    help="How many people fold.",
)
@click.option(
    "--from",
    "paper",
    default="",
    metavar="SIZE",
    help="Pages to cut the sheets from: A4, Letter, ...  [default: A4, or A3 where that is too small]",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["pdf", "json", "text"], case_sensitive=False),
    default="pdf",
    show_default=True,
    help="Pages, or JSON or plain text on standard output.",
)
@options.out("the plan gets a folder of its own")
@options.page("Paper that the plan is printed on.")
@options.style("Look of the pages.")
@options.one_language("Language of the plan", "that of the booklet or of the scripts")
def COMMAND(
    paths: tuple[Path, ...],
    people: int,
    paper: str,
    form: str,
    out: Path,
    page: str,
    style: str,
    language: str,
) -> None:
    """Plan a class: level, time, sheets, cuts, tools, cautions.

    For one model, several, a folder, or a booklet file. Levels and times are rules of thumb that
    teachers use, not measurements.

    \b
    Examples:
      foldscript plan cup.foldscript --people 12
      foldscript plan club.toml --people 20 --from Letter --page Letter
      foldscript plan samples --format json > plan.json
    """
    from ..building import class_plan

    with options.checked():
        who = class_plan.class_of(people, paper, page, style, language)

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        planned = class_plan.plan(paths, who, doing)
        if form == "json":
            return class_plan.plan_json(planned).rstrip("\n"), planned.notes
        if form == "text":
            return class_plan.plan_text(planned).rstrip("\n"), planned.notes
        built = class_plan.plan_pages(planned, who, out, doing)
        return shown(f"class plan: {os.fspath(built.files[0])}"), built.notes

    run(paths[:1], [], work, answer=form != "pdf")
