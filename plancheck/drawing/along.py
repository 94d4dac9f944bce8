"""Where on a drawn run something stands: at a bend, at a distance along it, at the leg of a path, else at its middle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from plancheck.drawing.scene import Drawn, Scene, Spot, length_of
from plancheck.measures import Length
from plancheck.model import PathPoint, Point


def on_run(scene: Scene, run: Drawn, steps: Sequence[str]) -> Spot:
    """The place of what a finding names in a run: steps are its path behind the run's name."""
    metres = _metres(scene, run, steps)
    return _at(run, metres) if metres is not None else middle_of(run)


def middle_of(run: Drawn) -> Spot:
    """The middle of the longest piece on paper."""
    a, b = max(pairwise(run.corners), key=lambda ends: length_of(*ends))
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _metres(scene: Scene, run: Drawn, steps: Sequence[str]) -> float | None:
    """How far along its path; None where that is not told or not drawn."""
    number = next((int(step) for step in reversed(steps) if step.isdigit()), None)
    if number is None or not run.line.shown:
        return None
    if steps[0] == "bends":
        shape = scene.facts.geometry.shapes.get(run.line.run.id)
        return shape.turns[number].at_m if shape is not None and number < len(shape.turns) else None
    if steps[0] == "path":
        return _corner(run, number)
    items = {"along": run.line.run.along, "passes": run.line.run.passes}.get(steps[0])
    item = items[number] if isinstance(items, tuple) and number < len(items) else None
    at = item.at if item is not None else None
    first = at[0] if isinstance(at, tuple) and at else at
    return first.m if isinstance(first, Length) else None


def _corner(run: Drawn, number: int) -> float | None:
    """Where the leg of that number begins, behind the corner that a word on it is about; of the first leg nothing."""
    path = run.line.run.path or ()
    legs = number - int(bool(path) and isinstance(path[0], PathPoint))
    corners = run.line.corners[run.line.before :]
    return _length(corners[: legs + 1]) if 0 < legs < len(corners) else None


def _at(run: Drawn, metres: float) -> Spot:
    """The place so far along the plan's path."""
    metres += _length(run.line.corners[: run.line.before + 1])
    for (a, b), (c, d) in zip(pairwise(run.line.corners), pairwise(run.corners), strict=True):
        long = math.dist(a, b)
        if metres <= long + 1e-9:
            share = metres / long if long else 0.0
            return c[0] + share * (d[0] - c[0]), c[1] + share * (d[1] - c[1])
        metres -= long
    return run.corners[-1]


def _length(corners: Sequence[Point]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(corners))
