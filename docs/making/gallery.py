"""The gallery: all samples, built as anyone would build them.

In: `samples/`. Out: a page with a card for each, and the files that it leads to: scripts, handouts, pictures.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from html import escape
from pathlib import Path

from foldscript.building.results import entries
from foldscript.output.index_page import Entry
from foldscript.source.finding import SUFFIX

from .pictures import Picture
from .repository import ROOT

SAMPLES = ROOT / "samples"
#: What was built is kept from one build of the site to the next, or was built elsewhere already.
FOLDER = Path(os.environ.get("FOLDSCRIPT_SITE_BUILT") or ROOT / "out" / "site-samples")
#: Where it is on the site.
BUILT = "models"
#: Names of samples, parted by commas, where not all are wanted: for tests.
FEW = os.environ.get("FOLDSCRIPT_SITE_SAMPLES", "")


def scripts(folder: Path = SAMPLES) -> list[Path]:
    """The samples that are shown."""
    wanted = FEW.split(",") if FEW else []
    return [path for path in sorted(folder.glob(f"*{SUFFIX}")) if not wanted or path.stem in wanted]


@contextmanager
def built() -> Iterator[subprocess.Popen[bytes]]:
    """Begins to build the samples, beside whatever else is done; whoever wants them waits for it."""
    command = [sys.executable, "-m", "foldscript", "--no-settings", "build", "--quiet"]
    formats = ["--format", "svg,pdf", "--out", str(FOLDER)]
    with subprocess.Popen([*command, *formats, *map(str, scripts())]) as process:
        yield process
    if process.returncode:
        raise RuntimeError("a sample could not be built")


def gallery_page(uri: str) -> tuple[str, list[Picture]]:
    """A card for every sample."""
    some, faults = entries(scripts(), FOLDER)
    if faults:
        raise RuntimeError(faults[0].message)
    lines = [
        "---\nhide:\n  - navigation\n  - toc\n---",
        "# Gallery",
        "Every sample of the repository, folded and drawn when this site was made. All are traditional "
        "models or exercises; each card leads to the script and to the handout to print.",
        f'<ul class="models">{"".join(_cards(some))}</ul>',
    ]
    return "\n\n".join(lines) + "\n", []


def _cards(some: Iterable[Entry]) -> Iterator[str]:
    for one in some:
        handout = next(file for kind, file in one.files if kind == "pdf")
        title = escape(one.title)
        yield (
            f'<li><a href="{BUILT}/{handout}"><img src="{BUILT}/{one.picture}" alt="" loading="lazy">'
            f"<b>{title}</b></a><span>{escape(one.level)}</span>"
            f'<span><a href="samples/{one.name}{SUFFIX}" aria-label="{title}: script">script</a> '
            f'<a href="{BUILT}/{handout}" aria-label="{title}: handout">handout</a></span></li>'
        )


def files() -> Iterator[tuple[str, Path]]:
    """Everything of the samples that is on the site, by its place there."""
    for path in sorted(SAMPLES.rglob("*")):
        if path.suffix in (SUFFIX, ".toml"):
            yield path.relative_to(ROOT).as_posix(), path
    for script in scripts():
        for path in sorted((FOLDER / script.stem).glob(f"{script.stem}*")):
            if path.suffix == ".pdf" or path.name.endswith("-finished.svg"):
                yield f"{BUILT}/{path.relative_to(FOLDER).as_posix()}", path
