"""The laws by night: one seed after the other, faults and the number of cases written to a file as they come.

    .venv/bin/python -m tests.laws.night 0 2500 laws.txt      # seeds 0 to 2499, about 24,000 cases

Where the file is there already, it goes on after the last seed of it. A fault stops nothing: it is
written with the script that shows it, whatever was raised too.
"""

from __future__ import annotations

import re
import sys
import traceback
from collections import Counter
from pathlib import Path

from .cases import cases


def run(first: int, last: int, file: Path) -> None:
    """Tries the seeds from first to below last; one line a seed, and the faults below it."""
    done = (
        re.findall(r"^seed (\d+):", file.read_text("utf-8"), re.MULTILINE) if file.exists() else []
    )
    for seed in range(max([first, *(int(k) + 1 for k in done)]), last):
        tried: Counter[str] = Counter()
        found: list[str] = []
        for name, law in cases(seed):
            tried[name.partition(",")[0]] += 1
            try:
                found += [f"fault {name}: {fault}" for fault in law()]
            except Exception:
                found.append(f"fault {name}: {traceback.format_exc(limit=-4)}")
        counts = ", ".join(f"{number} {name}" for name, number in tried.items())
        with file.open("a", encoding="utf-8") as out:
            out.write(
                "\n".join((f"seed {seed}: {sum(tried.values())} cases: {counts}", *found, ""))
            )


if __name__ == "__main__":
    run(int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3]))
