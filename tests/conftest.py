"""What all tests share: the check that folded states are sound, made apart from the package; pictures."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from hypothesis import settings

from foldscript.folding.steps import Model
from foldscript.geometry.isometries import IDENTITY
from foldscript.geometry.lines import Segment
from foldscript.paper.state import Facet, State

from .checker.validator import faults
from .picture_report import Pictures

# Commands that tests run, in processes of their own too, tell nothing of how far they have come: what they
# write on standard error is the same on a busy machine.
os.environ["FOLDSCRIPT_PATIENCE"] = "100000"

# The same examples in every run; `pytest --hypothesis-profile=search` looks for new ones.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", max_examples=2000, deadline=None)
settings.load_profile("steady")


def examples(steady: int) -> settings:
    """How many examples a slow test takes in every run; in a search the profile decides."""
    usual = settings.default
    assert usual is not None
    return settings(max_examples=steady) if usual.derandomize else settings()


_PICTURES = pytest.StashKey[Pictures]()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[_PICTURES] = Pictures(bool(config.getoption("update_snapshots", False)))


@pytest.fixture(scope="session")
def pictures(request: pytest.FixtureRequest) -> Pictures:
    """Kept pictures, and the page that shows what changed (`picture_report.py`)."""
    return request.config.stash[_PICTURES]


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Where tests run in several processes, each hands what it found to the one that tells it."""
    handed = getattr(session.config, "workeroutput", None)
    if handed is not None:
        handed["pictures"] = session.config.stash[_PICTURES].changed


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any) -> None:
    """What one of several processes found is taken over (a hook of pytest-xdist)."""
    node.config.stash[_PICTURES].changed.update(
        getattr(node, "workeroutput", {}).get("pictures", {})
    )


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    place = config.stash[_PICTURES].write() if config.stash[_PICTURES].changed else None
    if place is not None:
        terminalreporter.write_line(f"pictures before and after: {place}")


def assert_sound(thing: Model | State | Sequence[State] | Mapping[str, Any]) -> None:
    """Fails with every fault of a folded model, of kernel states, or of a states document."""
    found = faults(states_document(thing))
    assert not found, "\n".join(found)


def states_document(
    thing: Model | State | Sequence[State] | Mapping[str, Any],
) -> Mapping[str, Any]:
    """The document that the validator reads; facets stand for plates where states are given."""
    if isinstance(thing, Mapping):
        return thing
    if isinstance(thing, Model):
        from foldscript.output.states import states

        return states(thing)
    given = [thing] if isinstance(thing, State) else list(thing)
    sheet = given[0].sheet
    flat = {
        "step": 0,
        "plates": [_plate(Facet(sheet.outline, IDENTITY))],
        "above": [],
        "marks": [],
    }
    return {
        "format": "foldscript-states",
        "version": 1,
        "model": "states under test",
        "sheet": {"outline": [list(p) for p in sheet.outline], "unit": "mm"},
        "states": [flat, *(_state(state, k) for k, state in enumerate(given, start=1))],
    }


def _state(state: State, step: int) -> dict[str, Any]:
    left = state.sheet.left is not None
    rings = {"outline": state.sheet.outline, "holes": state.sheet.holes}
    return {
        **({"left": rings} if left else {}),
        "step": step,
        "plates": [_plate(facet) for facet in state.facets],
        "above": [[i, j] if over else [j, i] for (i, j), over in state.order.items()],
        "marks": [_segment(s) for s in state.creases],
        "cuts": [_segment(s) for s in state.cuts],
    }


def _plate(facet: Facet) -> dict[str, Any]:
    m = facet.place
    return {
        "outline": [list(p) for p in facet.outline],
        "holes": [],
        "place": [[m.a, m.b, m.tx], [m.c, m.d, m.ty]],
        "shows": "front" if facet.shows_front else "back",
    }


def _segment(segment: Segment) -> dict[str, Any]:
    return {"from": list(segment[0]), "to": list(segment[1])}
