"""The pressure left at an outlet that draws a rate: alone, and with the code's section flows on its way."""

from collections.abc import Mapping, Sequence

from plancheck.demand.loads import Loads
from plancheck.flow.asked import Step
from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture, Missing
from plancheck.flow.required import rate_of
from plancheck.flow.shower import BATHING_C, hot_at
from plancheck.hydraulics.plain import Law, Regulator
from plancheck.hydraulics.solving import Solution
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Ref
from plancheck.record import NamedTuple

_COLDEST_C, _WARMEST_C = (35.0 - 32.0) / 1.8, (80.0 - 32.0) / 1.8  # what comes out of the ground, if nothing is said
_WHOLE = frozenset(("lavatory", "kitchen sink", "bar sink", "laundry tray", "clothes washer"))  # each side in turn
_AT = 1e-9


class Left(NamedTuple):
    """Pressure left at a fixture's supply, Pa: the lowest over its sides and over what is not known.

    side: which; static_pa: there with no water running; edges: the way of the water; solution and draws: what was drawn
    where, m3/s, with which other laws of edges; missing, why: why there is no figure.
    """

    pa: float
    side: str = ""
    static_pa: float = 0.0
    edges: tuple[str, ...] = ()
    solution: Solution | None = None
    draws: tuple[tuple[str, float], ...] = ()
    laws: tuple[tuple[str, Law], ...] = ()
    missing: Missing | None = None
    why: str = ""

    @property
    def friction_pa(self) -> float:
        """What the flow costs on the way."""
        return self.static_pa - self.pa


def cases(flow: Flow, fixture: Fixture, rate_m3s: float) -> list[dict[str, float]] | Missing:
    """What a fixture may draw at its sides, m3/s: a mixing valve at 105 degF, two handles the whole on each side in turn.

    Two cases for a mixing valve where the plan does not say how cold the water gets.
    """
    sides = fixture.sides
    if len(sides) < 2 or fixture.kind in _WHOLE:
        return [{name: rate_m3s} for name in sides.values()]
    hot_c = hot_at(flow, fixture.part)
    return hot_c if isinstance(hot_c, Missing) else mixes(flow, fixture, rate_m3s, hot_c)


def mixes(flow: Flow, fixture: Fixture, rate_m3s: float, hot_c: float) -> list[dict[str, float]]:
    """What a fixture that mixes to 105 degF draws at its cold and hot side, m3/s, with hot water of a temperature.

    A mix is never warmer than the heater's water: where that is no warmer than 105 degF, all of it comes from the hot side
    and the cold side is left out.
    """
    sides, cold_c = fixture.sides, flow.house.cold_c
    found = []
    for cold in (cold_c,) if cold_c is not None else (_COLDEST_C, _WARMEST_C):
        share = min(max((BATHING_C - cold) / (hot_c - cold), 0.0), 1.0) if hot_c > cold else 1.0
        draws = {sides["cold"]: rate_m3s * (1.0 - share), sides["hot"]: rate_m3s * share}
        found.append({side: draw for side, draw in draws.items() if draw > 0.0 or rate_m3s <= 0.0})
    return found


def alone(flow: Flow, fixture: Fixture, rate_m3s: float) -> Left:
    """The pressure left while the fixture alone draws the rate."""
    drawn = flow.house.supply or fixture.missing or cases(flow, fixture, rate_m3s)
    if isinstance(drawn, Missing):
        return Left(0.0, missing=drawn)
    return _lowest([_left(flow, case, case, None) for case in drawn])


def at_peak(flow: Flow, fixture: Fixture, rate_m3s: float, loads: Loads, laws: Mapping[str, Law] | None = None) -> Left:
    """The pressure left with every run of the way at its section flow by fixture units, and no less than the rate."""
    drawn = flow.house.supply or fixture.missing or cases(flow, fixture, rate_m3s)
    if isinstance(drawn, Missing):
        return Left(0.0, missing=drawn)
    usual = rate_of(flow.facts.plan.parts[fixture.part])
    more = 1.0 - usual / rate_m3s if usual is not None and rate_m3s > 0.0 else 0.0
    found = []
    for case in drawn:
        way = flow.drawn(case)
        missing = flow.unknown(way)
        if missing is not None or way.why:
            return Left(0.0, missing=missing, why=way.why)
        draws = _section_draws(flow, case, {side: flow.path(way, side) for side in case}, loads, more)
        if isinstance(draws, Missing):
            return Left(0.0, missing=draws)
        found.append(_left(flow, case, draws, laws))
    return _lowest(found)


def _left(flow: Flow, sides: Mapping[str, float], draws: Mapping[str, float], laws: Mapping[str, Law] | None) -> Left:
    solution = flow.drawn(draws, laws)
    found = []
    for side in sides:
        ref = Ref(*side.split("/", 1))
        reading = flow.reading(solution, ref)
        if reading.missing is not None or reading.why:
            return Left(0.0, side, missing=reading.missing, why=reading.why)
        static = flow.standing(ref, laws).pa
        edges = flow.path(solution, side)
        found.append(Left(reading.pa, side, static, edges, solution, tuple(draws.items()), tuple((laws or {}).items())))
    return _lowest(found)


def _lowest(found: Sequence[Left]) -> Left:
    if not found:
        return Left(0.0, why="no water is led to it")
    unknown = next((one for one in found if one.missing is not None or one.why), None)
    return unknown or min(found, key=lambda one: one.pa)


def _section_draws(
    flow: Flow, case: Mapping[str, float], routes: Mapping[str, tuple[str, ...]], loads: Loads, more: float
) -> dict[str, float] | Missing:
    """Draws along the way that give each run its section flow: what a run carries more than those after it leaves there.

    A manifold counts as one point; what leaves it by other ports leaves at the last of the ports on the way.
    """
    into: dict[str, float] = {}
    out: dict[str, dict[str, float]] = {}
    where: dict[str, str] = {}
    for side, route in routes.items():
        flows = _section_flows(flow, route, case[side], loads, more)
        if isinstance(flows, Missing):
            return flows
        nodes = _nodes(flow, side, route)
        point = nodes[0]
        for place, (edge, section) in enumerate(zip(route, flows, strict=True)):
            if flow.house.pieces[edge].kind == "manifold":
                continue
            leaving = out.setdefault(point, {})
            leaving[edge] = max(leaving.get(edge, 0.0), section)
            where[point] = nodes[place]
            point = nodes[place + 1]
            into[point] = max(into.get(point, 0.0), section)
        where[point] = nodes[-1]
    draws: dict[str, float] = {}
    for point, section in into.items():
        rest = section - sum(out.get(point, {}).values())
        if rest > _AT:
            draws[where[point]] = draws.get(where[point], 0.0) + rest
    return draws


def _section_flows(
    flow: Flow, route: Sequence[str], rate_m3s: float, loads: Loads, more: float
) -> list[float] | Missing:
    """The flow of each step: a run's by fixture units, but no more than all behind it take at once (more: the part of
    its rate that the outlet in question is asked for beyond its usual one); a port's valve as the run behind it, the rest as the run before.
    """
    pieces = flow.house.pieces
    found: list[float | None] = []
    for edge in route:
        piece = pieces[edge]
        known: float | None = None
        if piece.kind == "run" and piece.thing in loads:
            peak = loads[piece.thing].by_units
            if peak.flow_m3s is None:
                gap = peak.missing[0] if peak.missing else None
                return (
                    Missing(gap.path, gap.what) if gap is not None else Missing(("code", "family"), "the code family")
                )
            behind = flow.behind().get(piece.thing)
            known = min(peak.flow_m3s, behind.all_m3s + more * rate_m3s) if behind is not None else peak.flow_m3s
        found.append(known)
    for place, edge in enumerate(route):
        if found[place] is None and "/" in pieces[edge].thing:
            found[place] = next((one for one in found[place:] if one is not None), None)
    filled: list[float] = []
    first = next((one for one in found if one is not None), rate_m3s)
    for one in found:
        filled.append(one if one is not None else filled[-1] if filled else first)
    least = rate_m3s
    for place in range(len(filled) - 1, -1, -1):
        least = filled[place] = max(filled[place], least)
    return filled


def _nodes(flow: Flow, side: str, route: Sequence[str]) -> list[str]:
    edges = flow.edges
    found = [flow.house.node(side)]
    for name in reversed(route):
        edge = edges[name]
        found.append(edge.a if edge.b == found[-1] else edge.b)
    found.reverse()
    return found


def regulators_at(flow: Flow, share: float) -> dict[str, Law]:
    """The regulators of the house holding only a share of the pressure they are set to."""
    found: dict[str, Law] = {}
    for edge in flow.house.network.edges:
        level = flow.house.levels.of(Ref(edge.id, "out"))
        if isinstance(edge.law, Regulator) and level is not None:
            found[edge.id] = edge.law._replace(set_m=level + share * (edge.law.set_m - level))
    return found


def way_of(flow: Flow, left: Left) -> tuple[Step, ...]:
    """The way of the water to an outlet, with what each edge takes."""
    return flow.route(left.solution, left.side) if left.solution is not None else ()


def friction_by_run(flow: Flow, left: Left) -> list[tuple[float, str]]:
    """What each run of the way loses, Pa, the most first."""
    by: dict[str, float] = {}
    for step in way_of(flow, left):
        piece = flow.house.pieces[step.edge]
        by[piece.thing] = by.get(piece.thing, 0.0) + step.loss_m * WATER_PA_PER_M
    return sorted(((loss, name) for name, loss in by.items()), reverse=True)
