"""Where the pressure goes: a picture of the way from the street to the outlet that has least left, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.drawing.axis import INK, QUIET, Scale, axis, scale_for
from plancheck.drawing.letters import box_of, shortened
from plancheck.drawing.svg import Box, Picture, element, line, whole, words
from plancheck.facts import Facts
from plancheck.flow.asked import Step
from plancheck.flow.capacity import Left, way_of
from plancheck.flow.pages.table import Column
from plancheck.flow.supply import ahead_of, gauge_of
from plancheck.flow.worst import worst_outlet
from plancheck.hydraulics.plain import Regulator
from plancheck.hydraulics.solving import Solution
from plancheck.measures.units import INCH_M, WATER_PA_PER_M
from plancheck.model import Ref
from plancheck.record import NamedTuple
from plancheck.report.flowcells import text_of

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW = 180.0, 62.0, 150.0, 24.0, 6.0
_PRESSURE = Column("", "pressure")
_LOOK = {"friction": INK, "height": "#1f5fa8", "throttled": "#8a4b00"}


class Drop(NamedTuple):
    """One piece of the way: its name, what it is, the gauge pressure before and after, and what took it.

    why: friction, height (what the rise takes or the fall gives) or throttled (by a regulator).
    """

    name: str
    before_pa: float
    after_pa: float
    why: str


class Way(NamedTuple):
    """The way to an outlet side while all runs of it carry their peak; least_pa: what the code asks for there, if anything."""

    side: str
    drops: tuple[Drop, ...]
    least_pa: float | None


def pressure_way(facts: Facts) -> Way | None:
    """The way to the outlet that has least left at peak over what it needs; None where no pressure is known."""
    worst = worst_outlet(facts)
    return Way(worst.left.side, tuple(_drops(facts, worst.left)), worst.least_pa or None) if worst is not None else None


def _drops(facts: Facts, left: Left) -> Iterator[Drop]:
    """The pieces of a way, those of one thing together, and the heights between them."""
    flow, solution = facts.flow, left.solution
    steps = way_of(flow, left)
    if solution is None or not steps:
        return
    laws = dict(left.laws)
    level = flow.house.levels.gauge_m
    here = (max(flow.house.network.heads.values()) - level) * WATER_PA_PER_M
    node = _start(facts, left, steps)
    name, lost = "", 0.0
    for step in steps:
        thing = flow.house.pieces[step.edge].thing
        if thing != name and name:
            yield Drop(name, here, here - lost, "friction")
            here, lost = here - lost, 0.0
        name = thing
        edge = flow.edges[step.edge]
        law = laws.get(step.edge, edge.law)
        other = edge.b if edge.a == node else edge.a
        if isinstance(law, Regulator):
            fall = (_head(solution, node) - _head(solution, other) - step.loss_m) * WATER_PA_PER_M
            yield Drop(f"{thing}, holds back", here, here - fall, "throttled")
            here -= fall
        lost += step.loss_m * WATER_PA_PER_M
        node = other
        found = _level(facts, node)
        if found is not None and abs(found - level) > 0.01:
            yield Drop(name, here, here - lost, "friction")
            here -= lost
            rise = (found - level) * WATER_PA_PER_M
            yield Drop(_height_words(facts, found - level), here, here - rise, "height")
            here, lost, level, name = here - rise, 0.0, found, ""
    if name:
        yield Drop(name, here, here - lost, "friction")


def _level(facts: Facts, node: str) -> float | None:
    """How high a node stands, m; None where that is not known, and for what lies before the gauge, whose reading holds the
    height of all that already."""
    part, _, connection = node.partition("/")
    ahead = ahead_of(facts, gauge_of(facts))
    if part in ahead or (ahead and facts.plan.parts[part].is_ == "source"):
        return None
    return facts.flow.house.levels.of(Ref(part, connection.partition(":")[0]))


def _start(facts: Facts, left: Left, steps: tuple[Step, ...]) -> str:
    """The node at which a way begins."""
    node = facts.flow.house.node(left.side)
    for step in reversed(steps):
        edge = facts.flow.edges[step.edge]
        node = edge.a if edge.b == node else edge.b
    return node


def _head(solution: Solution, node: str) -> float:
    """The head at a node of the way, which has water."""
    return solution.heads[node] or 0.0


def _height_words(facts: Facts, rise_m: float) -> str:
    step = INCH_M if facts.units.length == "ft-in" else 0.01
    return f"{'up' if rise_m > 0 else 'down'} {facts.length(round(abs(rise_m) / step) * step)}"


def pressure_picture(facts: Facts) -> Picture | None:
    """The picture of that way; None where no pressure is known."""
    way = pressure_way(facts)
    if way is None or not way.drops:
        return None
    values = [0.0, *(drop.before_pa for drop in way.drops), *(drop.after_pa for drop in way.drops)]
    unit = {"psi": 6894.757293168, "kPa": 1e3, "bar": 1e5}[facts.units.pressure]
    scale = scale_for([value / unit for value in values], _LEFT, _RIGHT)
    height = _TOP + _ROW * (len(way.drops) + 1) + 22
    title = f"Pressure on the way to {way.side}"
    last = way.drops[-1].after_pa
    about = (
        f"From {facts.quantity(way.drops[0].before_pa, 'pressure')} at the gauge to {_left(last, facts)} at "
        f"{way.side}, each run of the way at its peak by fixture units or what its outlets take together; it has least over what it needs."
    )
    labels: list[tuple[str, Box]] = []
    body = list(_body(facts, way, scale, unit, height, labels))
    svg = whole("pressure", title, about, _WIDTH, height, [*_frame(title, about, height), *body])
    return Picture("pressure", title, about, svg, _WIDTH, height, tuple(labels))


def _left(pa: float, facts: Facts) -> str:
    """A pressure that is left, in words where none is."""
    return facts.quantity(pa, "pressure") if pa > 0.0 else "no pressure"


def _frame(title: str, about: str, height: float) -> Iterator[str]:
    yield element("rect", x=0, y=0, width=_WIDTH, height=height, fill="#ffffff")
    yield words(4, 7, shortened(title, 4.2, _WIDTH - 8), 4.2, font_weight="bold")
    yield words(4, 12.5, shortened(about, 2.6, _WIDTH - 8), 2.6, fill=QUIET)


def _body(facts: Facts, way: Way, scale: Scale, unit: float, height: float, labels: list[tuple[str, Box]]) -> Iterator[str]:
    bottom = _TOP + _ROW * (len(way.drops) + 0.5)
    yield from axis(scale, _TOP, bottom, facts.units.pressure)
    if way.least_pa is not None:
        x = scale.at(way.least_pa / unit)
        yield line(((x, _TOP), (x, bottom)), stroke="#a3160f", stroke_width=0.5, stroke_dasharray="2 1")
        text = f"least the outlet needs: {text_of(way.least_pa, _PRESSURE, facts)}"
        yield words(x, bottom + 4, text, 2.4, text_anchor="middle", fill="#a3160f")
        labels.append((text, box_of(x, bottom + 4, text, 2.4, "middle")))
    start = scale.at(way.drops[0].before_pa / unit)
    points = [(start, _TOP)]
    for place, drop in enumerate(way.drops):
        y = _TOP + _ROW * (place + 1)
        before, after = scale.at(drop.before_pa / unit), scale.at(drop.after_pa / unit)
        yield line(((before, y), (after, y)), stroke=_LOOK[drop.why], stroke_width=1.6, stroke_dasharray=_DASHES[drop.why])
        points += [(before, y), (after, y)]
        name = shortened(drop.name, 2.8, _LEFT - 8)
        yield words(4, y + 1, name, 2.8)
        labels.append((name, box_of(4, y + 1, name, 2.8)))
        change = _change((drop.after_pa - drop.before_pa) / unit, 2 if facts.units.pressure == "bar" else 1)
        yield words(_RIGHT + 14, y + 1, change, 2.8, text_anchor="end")
        yield words(_WIDTH - 4, y + 1, text_of(drop.after_pa, _PRESSURE, facts), 2.8, text_anchor="end")
        labels += [(change, box_of(_RIGHT + 14, y + 1, change, 2.8, "end"))]
    yield line([*points, (points[-1][0], bottom)], stroke=INK, stroke_width=0.35)
    yield words(_RIGHT + 14, _TOP - 1.5, "change", 2.4, text_anchor="end", fill=QUIET)
    yield words(_WIDTH - 4, _TOP - 1.5, "left", 2.4, text_anchor="end", fill=QUIET)
    yield from _legend(way, height)


def _change(value: float, decimals: int) -> str:
    """A change with its sign; 0 where it is less than its last decimal."""
    text = f"{value:+.{decimals}f}"
    return "0" if not text.strip("+-0.") else text.replace("-", "\u2212")


_DASHES = {"friction": None, "height": "1.2 0.8", "throttled": "3 1"}


def _legend(way: Way, height: float) -> Iterator[str]:
    x, y = 4.0, height - 5
    there = {drop.why for drop in way.drops}
    for why, text in (("friction", "lost by flow"), ("height", "taken or given by height"), ("throttled", "held back by a regulator")):
        if why not in there:
            continue
        yield line(((x, y - 1), (x + 9, y - 1)), stroke=_LOOK[why], stroke_width=1.6, stroke_dasharray=_DASHES[why])
        yield words(x + 11, y, text, 2.6)
        x += 56
