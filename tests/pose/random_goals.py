"""Random paper, and random goals for it: what hands could be asked to do, whether it can be done or not.

In: random choices. Out: a model, and goals stage by stage; half of them are said in words, and come from the
moves as they would from a script, the others are put together from the paper as it lies.
"""

from __future__ import annotations

import math
import random

from foldscript.folding.resuming import FoldingCache
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import inverse
from foldscript.geometry.lines import Point, Segment, between, midpoint
from foldscript.geometry.polygons import centroid
from foldscript.paper.state import State
from foldscript.pose.goals import (
    Blow,
    Bring,
    Curl,
    Goal,
    Hold,
    Level,
    Open,
    Pull,
    Raise,
    Round,
    Spread,
    Stages,
)
from foldscript.source.diagnostics import FoldscriptError

from ..laws.outcomes import outcome
from ..laws.random_scripts import BEGINNINGS, STANDING, Words
from ..scripts import SQUARE, folded, folds, script

#: How often words are tried until the moves accept some.
_TRIES = 12


def random_paper(rnd: random.Random) -> tuple[list[str], Words]:
    """Statements that were accepted, and the words for what is said next."""
    words = Words(rnd)
    memory = FoldingCache()
    done: list[str] = []
    beginning = list(rnd.choice(BEGINNINGS))
    for statement in [*beginning, *(None for _ in range(rnd.randrange(1, 5)))]:
        wanted = statement or words.statement()
        if not outcome([*done, wanted], SQUARE, memory).refused:
            done.append(wanted)
            words.accept(wanted)
    return [*done, "turn over"], words


def random_model(rnd: random.Random) -> Model:
    """Random paper as it lies flat."""
    done, _ = random_paper(rnd)
    return folded(*done)


def random_stages(rnd: random.Random) -> tuple[Model, Stages]:
    """A model as it lies flat in the end, and what is to be done with it."""
    done, words = random_paper(rnd)
    model = folded(*done)
    if rnd.random() < 0.5:
        said = stages_said(rnd, done, words)
        if said:
            return model, said
    stages: list[tuple[Goal, ...]] = [(random_goal(rnd, model.finished),)]
    while len(stages) < 3 and rnd.random() < 0.25:
        stages.append((random_goal(rnd, model.finished),))
    if rnd.random() < 0.25:
        stages[0] = (*stages[0], random_hold(rnd, model.finished))
    return model, tuple(stages)


def stages_said(rnd: random.Random, done: list[str], words: Words) -> Stages:
    """Goals of one or two statements that leave the plane; none where no words were accepted."""
    found: list[str] = []
    most = rnd.choice((1, 1, 2))
    stages: Stages = ()
    for _ in range(_TRIES):
        statement = words.filled(rnd.choice(STANDING))
        try:
            model = folds(script(*done, *found, statement))
        except FoldscriptError:
            continue
        if not model.steps[-1].records[-1].goals:
            continue
        found.append(statement)
        stages = tuple(r.goals for step in model.steps for r in step.records if r.goals)
        if len(found) == most:
            break
    return stages


def random_goal(rnd: random.Random, paper: State) -> Goal:
    """One thing that hands do with flat paper."""
    ring = rnd.choice(paper.outlines)
    k = rnd.randrange(len(ring))
    edge = (ring[k], ring[(k + 1) % len(ring)])
    folds = [j.segment for j in paper.joints if j.folded] + list(paper.creases)
    if folds and rnd.random() < 0.35:
        crease, sense = rnd.choice(folds), (rnd.choice((1, -1)),)
        if rnd.random() < 0.25:
            like = rnd.choice((None, _inside(rnd, paper)))
            return Level((crease,), 180.0, rnd.choice((sense, (0,))), like)
        return Raise((crease,), rnd.choice((0.0, 45.0, 90.0, 180.0)), sense)
    rim = paper.sheet.outline
    sides: list[Segment] = [*folds, *zip(rim, (*rim[1:], rim[0]), strict=True)]
    corner = rnd.choice(rim)
    match rnd.choice(("round", "curl", "pull", "open", "spread", "blow", "bring")):
        case "round":
            one, other = rnd.sample(sides, 2)
            return Round((one,), (other,), rnd.choice((2.0, 15.0, 40.0)))
        case "curl":
            return random_curl(rnd, paper)
        case "pull":
            return random_pull(rnd, paper)
        case "open":
            return Open(edge, rnd.choice((5.0, 20.0, 60.0)))
        case "spread":
            return Spread(edge[0], rnd.choice((5.0, 40.0)))
        case "blow":
            return Blow(rnd.choice((None, edge)))
        case _:
            return Bring(corner, ring[0])


def random_hold(rnd: random.Random, paper: State) -> Hold:
    """A hand at a place within the paper."""
    point = _inside(rnd, paper)
    return Hold(paper.where(point), point)


def random_pull(rnd: random.Random, paper: State) -> Pull:
    """A corner of a facet away from another, along the way from there or out of the plane."""
    one, other = (rnd.choice(rnd.choice(paper.facets).outline) for _ in range(2))
    here, there = paper.where(one), paper.where(other)
    way = (0.0, 0.0, rnd.choice((1.0, -1.0)))
    apart = math.dist(here, there)
    if apart > 0.05 and rnd.random() < 0.7:
        way = ((here[0] - there[0]) / apart, (here[1] - there[1]) / apart, 0.0)
    return Pull(one, other, way, rnd.choice((2.0, 10.0, 30.0)))


def random_curl(rnd: random.Random, paper: State) -> Curl:
    """From a corner of the sheet, or the middle of a side, some way towards a place of the same facet."""
    facet = rnd.choice(paper.facets)
    k = rnd.randrange(len(facet.outline))
    tip = facet.outline[k]
    if rnd.random() < 0.4:
        tip = midpoint(tip, facet.outline[k - 1])
    begins = between(tip, centroid(facet.outline), rnd.choice((0.3, 0.6, 1.0)))
    far = math.dist(tip, begins) * paper.sheet.unit_mm
    turns = rnd.choice((0.1, 0.25, 0.5, 0.75, 0.9))
    return Curl(tip, begins, far / turns / 2 / math.pi, rnd.random() < 0.5)


def _inside(rnd: random.Random, paper: State) -> Point:
    """A place of the sheet within a facet."""
    facet = rnd.choice(paper.facets)
    return between(centroid(facet.outline), rnd.choice(facet.outline), rnd.choice((0.0, 0.5)))


def layers_at(paper: State, at: Point) -> list[Point]:
    """The places of the sheet that lie at a place of the folded plane."""
    return [inverse(paper.facets[k].place)(at) for k in paper.facets_at(at)]
