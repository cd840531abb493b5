"""Two checkouts side by side: the same samples cold, warm, after one edit and on two cores, in turns.

    .venv/bin/python tests/benchmarks/beside.py /path/to/an/older/checkout [--rounds 5] [--scripts cup,boat]
        [--samples older]

Both run with the Python that runs this, so that only foldscript differs. Every round does each task once
with either, one right after the other, and the ratio that is told is the median of the rounds': what else
the machine does meets both alike. Times are processor time (user and system, of all child processes); only
the two cores are measured by the clock. Memory is the most that the process held. Printed as a table in
Markdown. Asserts nothing.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
#: What any command that folds has to import: the least that a cold start takes.
IMPORTS = "import shapely, lark, click"
#: What one edit changes.
EDIT = "\n# one line more\nstep\n  turn over\n"


@dataclass(frozen=True)
class Spent:
    """What a run takes: seconds of processor time, seconds by the clock, million bytes at most."""

    processor: float
    clock: float
    memory: float


#: (checkout, folder with the samples, folder for the results) -> what it took
Task = Callable[[Path, Path, Path], Spent]


def spent(arguments: list[str], checkout: Path, folder: Path) -> Spent:
    """What a run of Python takes, in a folder, with the foldscript of a checkout."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"PYTHONPATH": str(checkout), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    began = time.perf_counter()
    with tempfile.TemporaryFile() as said:
        run = subprocess.Popen(
            [sys.executable, *arguments], cwd=folder, env=env, stdout=said, stderr=said
        )
        _, status, used = os.wait4(run.pid, 0)  # of this child and its own alone
        run.returncode = os.waitstatus_to_exitcode(status)
        took = time.perf_counter() - began
        if run.returncode:
            said.seek(0)
            print(said.read().decode(errors="replace")[-500:], file=sys.stderr)
    return Spent(used.ru_utime + used.ru_stime, took, used.ru_maxrss / 1000)


@cache
def knows_jobs(checkout: Path) -> bool:
    """A checkout from before `--jobs` does everything on one core."""
    asked = [sys.executable, "-m", "foldscript", "build", "--help"]
    env = os.environ | {"PYTHONPATH": str(checkout)}
    told = subprocess.run(asked, cwd=checkout, env=env, capture_output=True, text=True, check=True)
    return "--jobs" in told.stdout


def build(what: str = ".", jobs: int = 1) -> Task:
    def task(checkout: Path, samples: Path, out: Path) -> Spent:
        cores = ["--jobs", str(jobs)] if knows_jobs(checkout) else []
        return spent(
            ["-m", "foldscript", "build", what, "--out", str(out), *cores], checkout, samples
        )

    return task


def cold(what: str = ".", jobs: int = 1) -> Task:
    """Into a folder where nothing is yet."""

    def task(checkout: Path, samples: Path, out: Path) -> Spent:
        shutil.rmtree(out, ignore_errors=True)
        return build(what, jobs)(checkout, samples, out)

    return task


def edited(checkout: Path, samples: Path, out: Path) -> Spent:
    """After one script has a step more; it is taken away again."""
    script = min(samples.glob("*.foldscript"))
    text = script.read_text("utf-8")
    script.write_text(text + EDIT, "utf-8")
    took = build()(checkout, samples, out)
    script.write_text(text, "utf-8")
    build()(checkout, samples, out)
    return took


def python(*arguments: str) -> Task:
    return lambda checkout, samples, out: spent(list(arguments), checkout, samples)


#: What is run, and what is told of it: a name, and what is measured.
TASKS: tuple[tuple[Task, tuple[tuple[str, str], ...]], ...] = (
    (python("-c", IMPORTS), ((f"`{IMPORTS}`", "processor"),)),
    (
        python("-m", "foldscript", "check", "boat.foldscript"),
        (("`check` of one model, cold", "processor"),),
    ),
    (
        python("-m", "foldscript", "check", "frog.foldscript"),
        (("`check` of the frog", "processor"),),
    ),
    (
        cold("frog.foldscript"),
        (
            ("`build` of the frog, cold", "processor"),
            ("`build` of the frog, cold, one core, by the clock", "clock"),
        ),
    ),
    (
        cold("frog.foldscript", jobs=2),
        (("`build` of the frog, cold, two cores, by the clock", "clock"),),
    ),
    (
        cold(),
        (
            ("`build` of the folder, cold, one core", "processor"),
            ("`build` of the folder, cold, one core, by the clock", "clock"),
            ("`build` of the folder, cold, one core, most memory", "memory"),
        ),
    ),
    (build(), (("the same again, nothing changed", "processor"),)),
    (edited, (("the same after one edit", "processor"),)),
    (cold(jobs=2), (("`build` of the folder, cold, two cores, by the clock", "clock"),)),
)
UNITS = {"processor": "s", "clock": "s", "memory": "MB"}


@contextmanager
def folders(source: Path, names: list[str]) -> Iterator[tuple[Path, Path]]:
    """A folder with the samples of a checkout, and one for what is made of them."""
    with tempfile.TemporaryDirectory() as temporary:
        samples = Path(temporary) / "samples"
        shutil.copytree(source / "samples", samples)
        for script in samples.glob("*.foldscript"):
            if names and script.stem not in (*names, "boat", "frog"):
                script.unlink()
        yield samples, Path(temporary)


def installed() -> tuple[int, float]:
    """How many packages foldscript brings besides itself, and how many million bytes all take."""
    waiting, found = ["foldscript"], dict[str, int]()
    while waiting:
        name = waiting.pop()
        if name.casefold() in found:
            continue
        try:
            package = metadata.distribution(name)
        except metadata.PackageNotFoundError:  # not needed with this Python
            continue
        files = [Path(str(package.locate_file(f))) for f in package.files or ()]
        found[name.casefold()] = sum(f.stat().st_size for f in files if f.is_file())
        waiting += (
            need.split(";")[0].split("[")[0].rstrip("<>=!~0123456789., ")
            for need in package.requires or ()
            if "extra ==" not in need
        )
    return len(found) - 1, sum(found.values()) / 1e6


def _tell(what: str, which: str, rounds: list[tuple[Spent, Spent]]) -> None:
    """One row of the table, of what one measure was in every round."""
    rows = [(getattr(older, which), getattr(now, which)) for older, now in rounds]
    older, now = (statistics.median(column) for column in zip(*rows, strict=True))
    ratio = statistics.median(b / a for a, b in rows)
    unit = UNITS[which]
    print(f"| {what} | {older:.2f} {unit} | {now:.2f} {unit} | {ratio:.2f} |", flush=True)


def main() -> None:
    """Runs all tasks in turns and prints the table."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("older", type=Path)
    asked.add_argument("--rounds", type=int, default=5)
    asked.add_argument(
        "--samples", choices=("older", "now"), default="now", help="of which checkout"
    )
    asked.add_argument("--scripts", default="", help="samples to take, by their names; all if none")
    asked.add_argument(
        "--tasks", default="", help="only tasks that have one of these in their names"
    )
    said = asked.parse_args()
    wanted = [word for word in said.tasks.split(",") if word]
    print("| what | older | now | now : older |\n|---|---|---|---|")
    names = [name for name in said.scripts.split(",") if name]
    with folders(said.older if said.samples == "older" else ROOT, names) as (samples, out):
        for task, told in TASKS:
            if wanted and not any(word in what for word in wanted for what, _ in told):
                continue
            rows: list[tuple[Spent, Spent]] = []
            for round_ in range(said.rounds + (said.rounds > 1)):
                older, now = (
                    task(checkout, samples, out / name)
                    for name, checkout in (("older", said.older.resolve()), ("now", ROOT))
                )
                if round_ or said.rounds == 1:  # the first of several warms up
                    rows.append((older, now))
            for what, which in told:
                _tell(what, which, rows)
    packages, size = installed()
    print(f"\nfoldscript and {packages} packages, {size:.0f} MB")


if __name__ == "__main__":
    main()
