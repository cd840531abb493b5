"""Programs killed at work: what they leave behind must be whole."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

Tree = dict[str, bytes]

#: Writes two sets of files in turns, for ever, into a folder or into several below it.
WRITER = """\
import itertools, sys
from pathlib import Path
from foldscript.output.writing import write_files
def files(kind, count, folder=""):
    steps = {f"{folder}cup-{k:02}.svg": kind * 20000 for k in range(1, count + 1)}
    return steps | {f"{folder}cup.pdf": kind}
folders = sys.argv[2:] or [""]
for kind, count in itertools.cycle([(b"A", 14), (b"B", 11)]):
    made = {name: data for one in folders for name, data in files(kind, count, one).items()}
    write_files(Path(sys.argv[1]), made, "cup", {f"{one}.record": kind for one in folders})
    print(end=".", flush=True)
"""


def seen(folder: Path) -> Tree:
    """What lies in a folder, but for hidden files."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
    }


def kill_after(command: Sequence[str | Path], cwd: Path, seconds: float) -> bool:
    """Starts a program and kills it; whether it was still at work."""
    made = subprocess.Popen(
        list(map(str, command)),
        cwd=cwd,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        made.wait(seconds)
        return False
    except subprocess.TimeoutExpired:
        made.send_signal(signal.SIGKILL)
        made.wait()
        return True


def killed_writers(
    folder: Path, times: int, moments: random.Random, below: Sequence[str] = ()
) -> Iterator[Tree]:
    """What a program leaves that was killed while it wrote all files again and again.

    `below` are folders in the folder ('es/') that get a set of the files each.
    """
    for _ in range(times):
        made = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(folder), *below], stdout=subprocess.PIPE, bufsize=0
        )
        assert made.stdout is not None
        assert made.stdout.read(1) == b"."  # it has written once
        time.sleep(moments.uniform(0, 0.03))
        made.send_signal(signal.SIGKILL)
        made.wait()
        made.stdout.close()
        yield seen(folder)


def killed_builds(
    command: Sequence[str | Path],
    cwd: Path,
    change: Callable[[int], None],
    times: int,
    moments: random.Random,
) -> Iterator[tuple[Tree, Tree, Tree]]:
    """For each killed build what was there before, what it left, and what it would have made.

    `change` makes the next version of what is built; every build that is killed is then done in peace.
    """
    out = cwd / "out"
    subprocess.run(list(map(str, command)), cwd=cwd, check=True, capture_output=True)
    took = 1.0
    for k in range(times):
        before = seen(out)
        change(k)
        kill_after(command, cwd, moments.uniform(0, took))
        left = seen(out)
        began = time.monotonic()
        subprocess.run(list(map(str, command)), cwd=cwd, check=True, capture_output=True)
        took = max(0.2, time.monotonic() - began)
        yield before, left, seen(out)
