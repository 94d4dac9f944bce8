"""The supply: a fixed head at the source, and what is lost on the way to the gauge as it was read."""

from plancheck.facts import Facts
from plancheck.flow.house import M_PER_PA, Drawing, Missing, Piece
from plancheck.flow.levels import Levels
from plancheck.hydraulics.plain import Quadratic
from plancheck.measures import Quantity
from plancheck.measures.units import PSI_PA
from plancheck.model import Flowing, Part, Ref, RegulatorOwn
from plancheck.network.joints import inward

MAIN = "main"
SERVICE = "the supply as measured"
_LEAST_FLOW_M3S = 1e-6


def gauge_of(facts: Facts) -> Ref:
    """Where the supply was read: the gauge of the plan, else its source."""
    said = facts.plan.water.gauge
    name, _, connection = (said or "").partition("/")
    part = facts.plan.parts.get(name)
    if part is not None:
        return Ref(name, connection or inward(part))
    source = next((part.id for part in facts.plan.parts.values() if part.is_ == "source"), "")
    return Ref(source, "out")


def add_supply(drawing: Drawing, facts: Facts, levels: Levels) -> Missing | None:
    """The source as a known head, with the measured fall between it and the gauge; what is missing, if something is."""
    water = facts.plan.water
    source = next((part for part in facts.plan.parts.values() if part.is_ == "source" and part.work != "removed"), None)
    if source is None:
        return Missing(("parts",), "a source")
    start = f"{source.id}/out"
    if not isinstance(water.static, Quantity):
        drawing.heads[start] = 0.0
        return Missing(("water", "static"), "the standing pressure")
    gauge = gauge_of(facts)
    if not levels.is_tied:
        drawing.heads[start] = 0.0
        what = f"how high {facts.part_name(gauge.part)} stands, where the pressure was read (at, or a rise of each run)"
        return Missing(("parts", gauge.part, "at"), what)
    ahead = ahead_of(facts, gauge)
    head = levels.gauge_m + water.static.si * M_PER_PA
    if any(isinstance(facts.plan.parts[name].own, RegulatorOwn) for name in ahead if name in facts.plan.parts):
        drawing.assume("15 psi more in the street than at the gauge, which stands behind a regulator")
        drawing.heads[start] = head + 15.0 * PSI_PA * M_PER_PA
        return None
    if source.own is not None and getattr(source.own, "kind", None) == "well":
        drawing.assume("the tank of the well at the pressure that was read")
    flowing = water.flowing
    if isinstance(flowing, Flowing) and isinstance(flowing.pressure, Quantity) and isinstance(flowing.flow, Quantity):
        if flowing.flow.si > _LEAST_FLOW_M3S and flowing.pressure.si <= water.static.si:
            _measured(drawing, ahead, start, head, water.static.si - flowing.pressure.si, flowing.flow.si)
            return None
        drawing.assume("nothing of the running pressure, which is not below the standing one")
    drawing.heads[start] = head
    return None


def _measured(
    drawing: Drawing, ahead: tuple[str, ...], start: str, head: float, fall_pa: float, flow_m3s: float
) -> None:
    """All that lies ahead of the gauge as one loss: what was read tells more than tube and tables."""
    for name in ahead:
        if name in drawing.pieces:
            _dissolve(drawing, name)
    drawing.heads[MAIN] = head
    law = Quadratic(fall_pa * M_PER_PA / flow_m3s**2)
    drawing.add(SERVICE, MAIN, start, law, Piece("service", SERVICE))


def _dissolve(drawing: Drawing, name: str) -> None:
    for place, (edge, a, b, _, _) in enumerate(drawing.edges):
        if edge == name:
            del drawing.edges[place]
            drawing.joiner.join(a, b)
            return


def ahead_of(facts: Facts, gauge: Ref) -> tuple[str, ...]:
    """The runs and parts that all water passes between the source and the gauge, by the way it is first reached."""
    graph, parents = facts.network, facts.traced.parents
    vertex = graph.number.get(str(gauge))
    found = []
    while vertex is not None and vertex in parents and parents[vertex] >= 0:
        edge = graph.edges[parents[vertex]]
        if edge.run is not None:
            found.append(edge.run)
        name = graph.names[vertex]
        if "/" not in name and name in facts.plan.parts:
            found.append(name)
        vertex = edge.a if edge.b == vertex else edge.b
    return tuple(dict.fromkeys(found))


def held_at_gauge(facts: Facts, part: Part, levels: Levels) -> float | None:
    """What a regulator holds as head where the gauge stands behind it; None where it does not, or nothing was read."""
    static = facts.plan.water.static
    if not isinstance(static, Quantity) or part.id not in ahead_of(facts, gauge_of(facts)):
        return None
    return levels.gauge_m + static.si * M_PER_PA
