"""Shutoffs in words: what goes dry when a valve closes, how a place is isolated, what is left of a ring."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from plancheck.isolate import ALONE, FEWEST, PIPE, REACHED, Closing, Isolation, is_for_testing, reach_of
from plancheck.kinds import KINDS
from plancheck.model import GaugePortOwn, HeaterOwn, ManifoldOwn, ValveOwn
from plancheck.report.lines import HEAD, PLAIN, STATION, Line
from plancheck.ringcuts import Cut
from plancheck.valves import described

_SHOWN = 5  # valves of one chain
_REACH = {"open": "in reach", "panel": "behind a panel", "none": "closed in: nobody gets at it", None: "reach not said"}
_WAYS = {
    FEWEST: "The fewest valves",
    ALONE: "So that nothing else goes dry",
    "fewer others dry": "So that fewer others go dry",
    PIPE: "To cut the pipe ahead of the stops, which stays under pressure otherwise",
    REACHED: "With valves in reach alone",
}
HOLDS_NOT = (
    "A listed shutoff may not hold. Close it, open the lowest tap behind it, let the pressure out and watch that nothing "
    "more comes, before anything is cut or taken apart."
)
POWER_OFF = (
    "Where the heater goes dry, first turn off its power or gas. Its water and the hot pipe stay hot: they scald."
)


def valve_lines(closing: Closing) -> Iterator[Line]:
    """Every valve and what goes dry when it closes; then every outlet and the valves before it."""
    yield from _heading("Valves, and what goes dry when one closes")
    idle = []
    for name in closing.graph.valves:
        if is_for_testing(closing.facts, name):
            idle.append(name)
            continue
        yield f"{name}: {valve_words(closing, name)}", HEAD, 2
        yield f"  dry   {dry_words(closing, closing.dry((name,)))}", PLAIN, 6
        yield f"  next  {closing.next_upstream(name) or 'none ahead of it in this plan'}", PLAIN, 6
    if idle:
        yield f"Test and spare ports, which dry nothing: {', '.join(idle)}.", PLAIN, 2
    yield from _heading("Outlets, and the valves before them, nearest first")
    place = ""
    for name in closing.order:
        if _place(closing, name) != place:
            place = _place(closing, name)
            yield place, HEAD, 2
        yield f"  {point_words(closing, name)}: {_chain_words(closing, name)}", PLAIN, 4


def _heading(text: str) -> Iterator[Line]:
    yield "", PLAIN, 0
    yield text, STATION, 0


def _chain_words(closing: Closing, point: str) -> str:
    chain = closing.before(point)
    if not chain:
        return "no valve" if closing.is_wet(point) else "no water as the valves stand"
    first, *rest = chain
    more = f" and {len(rest) - _SHOWN} more" if len(rest) > _SHOWN else ""
    return f"{first}; next {', then '.join(rest[:_SHOWN])}{more}" if rest else f"{first}; none behind it"


def valve_words(closing: Closing, name: str) -> str:
    """What kind of valve it is, where it is, how one gets at it, in one line."""
    facts, part = closing.facts, closing.part_of(name)
    said = [_kind_words(closing, name)]
    if part.place is not None:
        said.append(facts.place_name(part.place))
    if not isinstance(part.own, GaugePortOwn) and described(closing.plan, name).style == "curb stop":
        return "; ".join([*said, "the street's, it wants a key"])
    said.append(_REACH[reach_of(facts, name)])
    if closing.graph.valves[name] in closing.graph.closed:
        said.append("closed as it stands")
    return "; ".join(said)


def _kind_words(closing: Closing, name: str) -> str:
    part = closing.part_of(name)
    if isinstance(part.own, ManifoldOwn):
        port = part.own.ports[name.partition("/")[2]]
        label = f", marked {port.label}" if port.label not in (None, "none", "not known") else ", no name on it said"
        return "section valve" if port.use == "section" else f"port valve{label}"
    if isinstance(part.own, ValveOwn):
        style = part.own.style if part.own.style not in (None, "not known") else "kind not said"
        return f"the main shutoff, {style}" if name in closing.facts.shutoffs.mains else f"valve, {style}"
    if isinstance(part.own, GaugePortOwn):
        return "valve of a test port"
    return f"stop of {closing.facts.part_name(part.id)}"


def point_words(closing: Closing, name: str) -> str:
    """An outlet side, a heater or a stub-out as one speaks of it."""
    part_id, _, side = name.partition("/")
    title = closing.facts.part_name(part_id)
    part = closing.plan.parts[part_id]
    if isinstance(part.own, HeaterOwn) or len(KINDS[part.is_].connections) == 1:
        return title
    return f"{title}, {side}"


def dry_words(closing: Closing, names: Collection[str]) -> str:
    """The points by place, sides of one part together; the whole house in one word."""
    if not names:
        return "nothing by it alone"
    if len(names) > 1 and len(names) == len(closing.wet_points):
        return "the whole house"
    return by_place(closing, names)


def by_place(closing: Closing, names: Iterable[str]) -> str:
    """The points grouped by place in words."""
    grouped: dict[str, dict[str, list[str]]] = {}
    for name in sorted(names, key=lambda point: closing.order[point]):
        part, _, side = name.partition("/")
        grouped.setdefault(_place(closing, name), {}).setdefault(part, []).append(side)
    return "; ".join(
        f"{place}: {', '.join(_sides(closing, part, sides) for part, sides in parts.items())}"
        for place, parts in grouped.items()
    )


def _sides(closing: Closing, part: str, sides: list[str]) -> str:
    title = closing.facts.part_name(part)
    return title if len(sides) == closing.sides[part] else f"{title} ({', '.join(sides)})"


def _place(closing: Closing, name: str) -> str:
    return closing.facts.place_name(closing.part_of(name).place) or "place not said"


def closed_lines(closing: Closing, valves: tuple[str, ...]) -> Iterator[Line]:
    """What closing some valves together does."""
    dry = closing.dry(valves)
    yield from _heading(f"Closed: {', '.join(valves)}")
    for name in valves:
        yield f"{name}: {valve_words(closing, name)}", HEAD, 2
        yield (
            f"  if it will not close: {closing.next_upstream(name) or 'no valve of the plan stands ahead of it'}",
            PLAIN,
            4,
        )
    yield f"Goes dry: {dry_words(closing, dry)}.", PLAIN, 2
    for name in valves:
        round_ = [point for point in closing.hanging(name) if point not in dry]
        if round_:
            yield f"Hangs on {name} but stays wet, by another way: {by_place(closing, round_)}.", PLAIN, 2
    gone = frozenset(dry)
    wet = [name for name in closing.wet() if name not in gone]
    yield f"Stays wet: {by_place(closing, wet) if wet else 'nothing'}.", PLAIN, 2
    before = [name for name in closing.points if not closing.is_wet(name)]
    if before:
        yield f"Without water as the valves stand: {by_place(closing, before)}.", PLAIN, 2


def isolation_lines(
    closing: Closing, what: str, points: tuple[str, ...], ways: tuple[Isolation, ...]
) -> Iterator[Line]:
    """The ways to isolate a place or a fixture."""
    yield from _heading(f"To keep all water from {what}")
    dry = [name for name in points if not closing.is_wet(name)]
    if dry:
        yield f"Without water as the valves stand: {by_place(closing, dry)}. Leave those valves closed.", PLAIN, 2
    if not points:
        yield "The plan has no outlet there.", PLAIN, 2
    elif not ways and len(dry) < len(points):
        yield "No valve of the plan does it: the street's own has to be closed.", PLAIN, 2
    for way in ways:
        yield f"{_WAYS[way.way]}: {' and '.join(way.valves)}.", HEAD, 2
        for valve in way.valves:
            yield f"  {valve}: {valve_words(closing, valve)}", PLAIN, 4
        also = dry_words(closing, way.others) if way.others else "nothing"
        yield f"  also dry: {also}", PLAIN, 4


def ring_lines(closing: Closing, cuts: Iterable[Cut], left_out: int = 0) -> Iterator[Line]:
    """What is left of each ring with one segment closed."""
    cuts = list(cuts)
    if cuts or left_out:
        yield from _heading("Rings, one segment closed at a time")
    if left_out:
        yield f"{left_out} segments are left out: of so many only those with a valve are told.", PLAIN, 2
    for cut in cuts:
        first, last = cut.segment.ends
        by = f", by {' and '.join(cut.segment.valves)}" if cut.segment.valves else ", no valve in it"
        yield f"Between {first} and {last}{by}", HEAD, 2
        yield f"  {_left(cut)}", PLAIN, 2
        if cut.dry:
            yield f"  dry: {by_place(closing, cut.dry)}", PLAIN, 4
        if cut.lost is not None:
            port, pa = cut.lost
            yield (
                f"  {port} loses most: {closing.facts.quantity(pa, 'pressure')} while the house draws its peak",
                PLAIN,
                4,
            )


def _left(cut: Cut) -> str:
    """What hangs on which side; the ports of one manifold without its name."""
    names = {name.partition("/")[0] for side in cut.one_side for name in side}
    sides = [
        ", ".join(name.partition("/")[2] or name if len(names) == 1 else name for name in side) for side in cut.one_side
    ]
    if not sides:
        return "nothing hangs on it"
    other = "".join(f"; on the other: {side}" for side in sides[1:])
    return f"{'' if cut.dry else 'nothing goes dry; '}on one side of the feed only: {sides[0]}{other}"


def warning_lines(closing: Closing) -> Iterator[Line]:
    """What lets water come round in this plan, and the cautions."""
    crossovers, bypasses = closing.facts.traced.crossovers, closing.graph.bypasses
    if crossovers:
        yield "", PLAIN, 0
        joined = f"Hot and cold are joined by {', '.join(crossovers)}, which is to come out"
        yield f"{joined}: water comes round through it, and all above counts it in.", PLAIN, 2
    if bypasses:
        names = ", ".join(closing.graph.names[vertex] for vertex in sorted(bypasses))
        yield "", PLAIN, 0
        yield f"{names} may let hot water into the cold line: all above counts with that.", PLAIN, 2
    yield from _heading("Cautions")
    for caution in (HOLDS_NOT, POWER_OFF):
        yield f"- {caution}", PLAIN, 2
