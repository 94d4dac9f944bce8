"""Where circulating hot pipe runs along cold pipe: how far, and how near. Metres, between centre lines."""

import math
from collections.abc import Iterator
from itertools import pairwise

from plancheck.circulating import circulation
from plancheck.facts import Facts
from plancheck.geometry.apart import box_of, boxes_apart, nearest
from plancheck.model import Point, Run
from plancheck.record import NamedTuple

_STEP_M = 0.0254  # the line is looked at inch by inch


class Beside(NamedTuple):
    """A hot and a cold run, how far they run side by side, and the least distance between them there."""

    hot: Run
    cold: Run
    length_m: float
    gap_m: float


def moving(facts: Facts) -> frozenset[str]:
    """The runs in which hot water is kept moving."""
    return frozenset(circulation(facts).runs)


def beside(facts: Facts, near_m: float, least_m: float) -> Iterator[Beside]:
    """Each pair of circulating hot and cold that runs within near_m for least_m, those of one bundle left out."""
    plan, hot = facts.plan, moving(facts)
    lines = {
        run.id: line for run in plan.runs.values() if run.work != "removed" and (line := facts.geometry.corners(run))
    }
    cold = [run for run in plan.runs.values() if run.id in lines and facts.carried(run.id).service == "cold"]
    for id_ in sorted(hot & lines.keys()):
        run, line = plan.runs[id_], lines[id_]
        box = box_of(line)
        for other in cold:
            there = lines[other.id]
            if (run.bundle is not None and run.bundle == other.bundle) or boxes_apart(box, box_of(there), near_m):
                continue
            found = _along(line, there, near_m)
            if found is not None and found[0] >= least_m:
                yield Beside(run, other, *found)


def _along(line: tuple[Point, ...], there: tuple[Point, ...], near_m: float) -> tuple[float, float] | None:
    """How much of a line lies within near_m of another, and the least distance."""
    close, least = 0.0, math.inf
    for a, b in pairwise(line):
        size = math.dist(a, b)
        steps = max(1, round(size / _STEP_M))
        for number in range(steps):
            share = (number + 0.5) / steps
            point = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2]))
            gap = min(nearest((point, point), (c, d)).m for c, d in pairwise(there))
            if gap <= near_m:
                close, least = close + size / steps, min(least, gap)
    return (close, least) if close else None
