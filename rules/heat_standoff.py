"""Plastic keeps away from flues, recessed lights and other hot things

Looks at: the straight distance from each plastic run to each hot thing of the plan (flue, vent, recessed light, boiler
    ...), from surface to surface where the sizes are given: beside it, and where the tube passes over it. Where no path
    measures it, the distance that the plan declares.
Why: hot metal and lamps dry and soften plastic within a few seasons, and nobody sees it behind the board.
To mend: move the run, or put metal pipe on that stretch.
Cannot see: heat shields, how hot a thing gets, things the plan does not name. A light made to be covered by insulation
    may be cool enough: that is for a person to read on its label.
Ask: the tube maker's instructions, and for vents the vent's own clearances; no model code carries these distances.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    Clear,
    Facts,
    Hot,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Point,
    Rule,
    Run,
    Subject,
    Value,
    at_least,
    broken,
    holds,
    is_new,
    is_plastic,
    length,
    on_site,
    point_of,
    printed,
    shape_of_path,
    tube_of,
    tube_outside_m,
)

_INCH = 0.0254
_SOURCE = printed("inspectors' text on PEX near recessed lights and vents; tube makers' manuals", "", "6 in beside, 12 in above")
BESIDE = Limit("beside", "plastic tube beside a hot thing", "length", "at least", practice=(Value(6 * _INCH, _SOURCE, practice=True),))
ABOVE = Limit("above", "plastic tube above a hot thing", "length", "at least", practice=(Value(12 * _INCH, _SOURCE, practice=True),))
RULE = Rule(highest="advice", stage="layout", limits=(BESIDE, ABOVE))

Line = Sequence[Point]


class Pair(NamedTuple):
    """A plastic run and a hot thing, with the ways to know how far apart they are."""

    run: Run
    hot: Hot
    tube_line: Line | None
    hot_line: Line | None
    declared: tuple[Clear, ...]
    far: bool


class Unmeasured(NamedTuple):
    """A hot thing in a place that plastic runs go through, with nothing to measure from."""

    hot: Hot
    runs: tuple[Run, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each plastic run with each hot thing it is measured or declared against; else the hot thing alone."""
    runs = [run for run in facts.plan.runs.values() if run.work != "removed" and is_plastic(tube_of(run, facts.plan))]
    lines = {run.id: facts.geometry.corners(run) for run in runs} if facts.plan.heat else {}
    for hot in facts.plan.heat.values():
        hot_line = _hot_line(hot, facts)
        paired: set[str] = set()
        for run in runs:
            declared = (run.clear or {}).get(hot.id, ())
            line = lines[run.id] if hot_line is not None else None
            if line is not None or declared:
                paired.add(run.id)
                place = (facts.run_places(run.id) or (None,))[-1]
                far = line is not None and hot_line is not None and _far_apart(line, hot_line)
                pair = Pair(run, hot, line, hot_line, declared, far)
                yield Subject(("runs", run.id), f"{run.id} and {hot.title}", place, pair)
        near = tuple(run for run in runs if run.id not in paired and hot.place in facts.run_places(run.id))
        if hot.place is not None and near:
            yield Subject(("heat", hot.id), hot.title, hot.place, Unmeasured(hot, near))


def _hot_line(hot: Hot, facts: Facts) -> Line | None:
    """The hot thing's path or point in the house frame."""
    start = point_of(hot.at, facts.plan.places) if hot.at is not None else None
    if hot.path:
        shape = shape_of_path(hot.path, facts.plan.places, start)
        origin = shape.origin if shape is not None else None
        if shape is not None and origin is not None:
            return [(origin[0] + c[0], origin[1] + c[1], origin[2] + c[2]) for c in shape.corners]
        return None
    return [start] if start is not None else None


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the run keeps its distance."""
    if isinstance(subject.thing, Unmeasured):
        hot = subject.thing.hot
        names = ", ".join(run.id for run in subject.thing.runs[:4])
        raise NotShown(("heat", hot.id, "path"), f"where {hot.title} is, or the declared distance (clear) of {names}")
    pair: Pair = subject.thing
    if pair.hot.insulation_contact is True:
        return on_site(f"{pair.hot.title} is said to take insulation against it: read its label, and keep tube off it")
    if not is_new(pair.run):
        return on_site(f"existing plastic near {pair.hot.title}: look at its state")
    if pair.tube_line is not None and pair.hot_line is not None:
        return _measured(pair, facts, limits)
    return _declared(pair, facts, limits)


def _declared(pair: Pair, facts: Facts, limits: Limits) -> Outcome:
    for clear in pair.declared:
        limit = limits.of(ABOVE if clear.side == "above" else BESIDE)
        if not at_least(clear.distance.m, limit.number, GRACE_LENGTH_M):
            estimate = clear.distance.text if clear.distance.about else ""
            return _near(pair, clear.distance.m, clear.side, limit, facts, "by the plan's own word ", estimate)
    about = next((clear.distance.text for clear in pair.declared if clear.distance.about), "")
    return holds("as declared", length(min(clear.distance.m for clear in pair.declared)), None, about)


def _measured(pair: Pair, facts: Facts, limits: Limits) -> Outcome:
    if pair.far:
        return holds("far away")
    tube = tube_of(pair.run, facts.plan)
    size = pair.hot.size.m if isinstance(pair.hot.size, Length) else 0.0
    less = size / 2 + ((tube_outside_m(tube) if tube is not None else None) or 0.0) / 2
    beside, above = _distances(pair.tube_line or (), pair.hot_line or (), less)
    note = _other_word(pair, min(beside, above), facts)
    for distance, side, kind in ((above, "above", ABOVE), (beside, "beside", BESIDE)):
        limit = limits.of(kind)
        if not at_least(distance, limit.number, GRACE_LENGTH_M):
            return _near(pair, max(distance, 0.0), side, limit, facts, note, "")
    nearest = min(beside, above)
    return holds("far enough", length(max(nearest, 0.0)) if nearest < math.inf else None)


def _other_word(pair: Pair, measured: float, facts: Facts) -> str:
    odd = [clear for clear in pair.declared if abs(clear.distance.m - measured) > 6 * _INCH]
    return f"(the plan declares {odd[0].distance.text}, its paths say otherwise) " if odd else ""


def _near(
    pair: Pair, distance: float, side: str, limit: InForce, facts: Facts, note: str, estimate: str
) -> Outcome:
    return broken(
        f"{pair.run.id} runs {note}{facts.length(distance)} {side} {pair.hot.title} ({pair.hot.is_}).",
        "advice",
        measured=Measured(distance, "length"),
        limit=limit,
        found=f"{facts.length(distance)} {side} it",
        needed=f"at least {facts.length(limit.number)} {side} it, surface to surface",
        mend=f"Move the run {facts.length(limit.number - distance)} further off, or use metal pipe on that stretch.",
        estimate=estimate,
    )


def _distances(tube: Line, hot: Line, less: float) -> tuple[float, float]:
    """Least distance beside the hot thing, and least height above it where the tube passes over it."""
    beside = above = math.inf
    for a, b in _segments(tube):
        for c, d in _segments(hot):
            gap, p, q = _nearest(a, b, c, d)
            over = p[2] > q[2] and math.hypot(p[0] - q[0], p[1] - q[1]) <= abs(p[2] - q[2]) * 0.5
            if over:
                above = min(above, gap - less)
            else:
                beside = min(beside, gap - less)
    return beside, above


_FAR_M = 1.2  # further apart than this along one axis, no size of flue or tube matters


def _far_apart(tube: Line, hot: Line) -> bool:
    """Whether the boxes around both are clearly apart."""
    return any(
        min(theirs) - max(mine) > _FAR_M or min(mine) - max(theirs) > _FAR_M
        for mine, theirs in zip(zip(*tube, strict=True), zip(*hot, strict=True), strict=True)
    )


def _segments(line: Line) -> list[tuple[Point, Point]]:
    return list(itertools.pairwise(line)) or [(line[0], line[0])]


def _nearest(a: Point, b: Point, c: Point, d: Point) -> tuple[float, Point, Point]:
    """The least distance between two straight pieces, and the points where it is."""
    u = (b[0] - a[0], b[1] - a[1], b[2] - a[2])
    v = (d[0] - c[0], d[1] - c[1], d[2] - c[2])
    w = (a[0] - c[0], a[1] - c[1], a[2] - c[2])
    uu, uv, vv = _dot(u, u), _dot(u, v), _dot(v, v)
    uw, vw = _dot(u, w), _dot(v, w)
    across = uu * vv - uv * uv
    s = _within((uv * vw - vv * uw) / across) if across > 1e-12 else 0.0
    t = _within((uv * s + vw) / vv) if vv > 1e-12 else 0.0
    s = _within((uv * t - uw) / uu) if uu > 1e-12 else 0.0
    p = (a[0] + s * u[0], a[1] + s * u[1], a[2] + s * u[2])
    q = (c[0] + t * v[0], c[1] + t * v[1], c[2] + t * v[2])
    return math.dist(p, q), p, q


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _within(part: float) -> float:
    return min(1.0, max(0.0, part))
