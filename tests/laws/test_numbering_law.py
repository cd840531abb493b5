"""The numbering law: the outcome does not follow from the order in which facets are kept."""

from __future__ import annotations

from foldscript.folding.resuming import FoldingCache

from .images import AS_IT_IS, IDENTITY, SQUARE
from .numbering import numbered_at_random
from .outcomes import outcome, unlike
from .test_mirror_law import CASES, random_script

SHEET = SQUARE.line(AS_IT_IS)


def test_facets_numbered_otherwise_fold_alike() -> None:
    faults: list[str] = []
    for seed in range(CASES // 10):
        memory = FoldingCache()
        for statements in random_script(seed):
            one = outcome(statements, SHEET)
            with numbered_at_random(seed):
                other = outcome(statements, SHEET, memory)
            told = "; ".join(statements)
            if one.refused != other.refused:
                faults.append(f"seed {seed}: '{one.refused}' and '{other.refused}': {told}")
            for a, b in zip(one.states, other.states, strict=False):
                if fault := unlike(a, b, IDENTITY, False):
                    faults.append(f"seed {seed}: {fault}: {told}")
                    break
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:5])
