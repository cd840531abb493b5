"""Random cases by night: seed after seed, what is wrong and how many cases ran, written as they come.

    .venv/bin/python -m tests.laws.night laws 0 1800 laws.txt      # seeds 0 to 1799, about 22,000 cases
    .venv/bin/python -m tests.laws.night outputs 0 300 outputs.txt
    .venv/bin/python -m tests.laws.night poses 0 1000 poses.txt
    .venv/bin/python -m tests.laws.night orders 0 1000 orders.txt

Where the file is there already, it goes on after the last seed of it. A fault stops nothing: it is
written with the script that shows it, whatever was raised too.
"""

from __future__ import annotations

import re
import sys
import traceback
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path

from ..drawing.test_painted_order import painted_wrongly
from ..pose.test_random_poses import posed_wrongly
from .cases import Case, cases
from .test_outputs import not_drawn

#: What is tried with a seed.
KINDS: dict[str, Callable[[int], list[Case]]] = {
    "laws": cases,
    "outputs": lambda seed: [("outputs", partial(not_drawn, seed))],
    "orders": lambda seed: [("orders", partial(painted_wrongly, seed))],
    "poses": lambda seed: [("poses", partial(posed_wrongly, seed))],
}


def run(kind: str, first: int, last: int, file: Path) -> None:
    """Tries the seeds from first to below last; one line a seed, and the faults below it."""
    done = (
        re.findall(r"^seed (\d+):", file.read_text("utf-8"), re.MULTILINE) if file.exists() else []
    )
    for seed in range(max([first, *(int(k) + 1 for k in done)]), last):
        tried: Counter[str] = Counter()
        found: list[str] = []
        for name, law in KINDS[kind](seed):
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
    run(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))
