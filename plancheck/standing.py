"""Standing pressure by zone: what is joined without passing a regulator. Gauge pressures in Pa, heights in m.

Ahead of every regulator it is the reading of `water`, at the height of its gauge; behind one the smaller of its set and what
stands ahead of it. A column of water counts 0.433 psi for each foot.
"""

from plancheck.facts import Facts
from plancheck.measures import Quantity
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Path, Ref, RegulatorOwn
from plancheck.record import NamedTuple

PUMP_HIGHER = "set the pump's switch higher, as far as pump and tank allow"


class Zone(NamedTuple):
    """One pressure zone.

    regulators: those that feed it, none for the street's; pressure_pa: None where missing says which key would tell it;
    at_m: the height it is known for, where that is known; path: the key it comes from; about: the estimate it rests on.
    """

    regulators: tuple[str, ...]
    pressure_pa: float | None
    at_m: float | None
    path: Path
    missing: Path | None = None
    about: str = ""

    def at_height(self, height_m: float | None) -> float | None:
        """The pressure at a height; not corrected where one of the two heights is not known."""
        if self.pressure_pa is None or height_m is None or self.at_m is None:
            return self.pressure_pa
        return self.pressure_pa + (self.at_m - height_m) * WATER_PA_PER_M


class Standing(NamedTuple):
    """The zones of a plan, the street's first, and for each vertex with water the number of its zone."""

    zones: tuple[Zone, ...]
    zone_of: dict[int, int]

    def at(self, vertex: int) -> Zone | None:
        """The zone of a vertex, or None where no water stands."""
        number = self.zone_of.get(vertex)
        return self.zones[number] if number is not None else None


def find_standing(facts: Facts) -> Standing:
    """The pressure zones of a plan."""
    graph = facts.network
    regulators = {
        graph.number[part.id]: part.id
        for part in facts.plan.parts.values()
        if isinstance(part.own, RegulatorOwn) and part.id in graph.number
    }
    zone_of: dict[int, int] = {}
    zones: list[Zone] = []
    if graph.source is None:
        return Standing((), {})
    waiting: list[tuple[int, str]] = [(graph.source, "")]
    for start, regulator in waiting:  # grows while it is walked
        if start in zone_of:
            _feeds_too(facts, zones, zone_of, start, regulator)
            continue
        met = _flood(facts, start, regulators, zone_of, len(zones))
        zones.append(_zone(facts, zones, zone_of, regulator))
        waiting += [(graph.number[f"{regulators[inside]}/out"], regulators[inside]) for inside in met]
    return Standing(tuple(zones), zone_of)


def fed_by_well(facts: Facts) -> bool:
    """Whether the water comes from a well with its own pressure tank, not from a street."""
    return any(part.is_ == "source" and getattr(part.own, "kind", None) == "well" for part in facts.plan.parts.values())


def ask_for_more(facts: Facts) -> str:
    """How one gets more pressure from the supply, in words."""
    if fed_by_well(facts):
        return PUMP_HIGHER
    return "ask for more pressure or a larger meter"


def height_of(facts: Facts, part: str) -> float | None:
    """The height of a part above the plan's zero: of any connection of it that has one."""
    heights = facts.geometry.heights
    for connection in ("in", "cold", "out", "hot", "branch"):
        found = heights.get(Ref(part, connection))
        if found is not None:
            return found
    return None


def _flood(facts: Facts, start: int, regulators: dict[int, str], zone_of: dict[int, int], number: int) -> list[int]:
    """Numbers what is joined to the start without passing a regulator; the regulators entered on the way."""
    graph = facts.network
    zone_of[start] = number
    frontier, met = [start], []
    for vertex in frontier:  # grows while it is walked
        for edge in graph.touching[vertex]:
            a, b, _, one_way = graph.edges[edge]
            other = b if a == vertex else a
            if other in regulators:
                if one_way and a == vertex:
                    met.append(other)
            elif other not in zone_of:
                zone_of[other] = number
                frontier.append(other)
    return met


def _zone(facts: Facts, zones: list[Zone], zone_of: dict[int, int], regulator: str) -> Zone:
    reading = _reading(facts, zone_of, len(zones))
    if not regulator:
        return reading or Zone((), None, None, ("water", "static"), ("water", "static"))
    found = _regulated(facts, zones, zone_of, regulator)
    if reading is None:
        return found
    if found.pressure_pa is None or (reading.pressure_pa or 0.0) > found.pressure_pa:
        return reading._replace(regulators=(regulator,))
    return found


def _reading(facts: Facts, zone_of: dict[int, int], number: int) -> Zone | None:
    """The zone by the reading of `water`, where its gauge stands in it; a gauge nobody names stands in the street's."""
    static, gauge = facts.plan.water.static, facts.plan.water.gauge
    if not isinstance(static, Quantity):
        return None
    path: Path = ("water", "static")
    part = facts.plan.parts.get(gauge) if gauge is not None else None
    if part is None:
        return Zone((), static.si, None, path, None, static.text if static.about else "") if number == 0 else None
    graph = facts.network
    names = (f"{part.id}/in", f"{part.id}/out", f"{part.id}/cold", part.id)
    vertices = [graph.number[name] for name in names if name in graph.number] or [
        vertex for vertex, name in enumerate(graph.names) if name.partition("/")[0] == part.id
    ]
    if not vertices or zone_of.get(vertices[0]) != number:
        return None
    return Zone((), static.si, height_of(facts, part.id), path, None, static.text if static.about else "")


def _regulated(facts: Facts, zones: list[Zone], zone_of: dict[int, int], regulator: str) -> Zone:
    own, path = facts.plan.parts[regulator].own, ("parts", regulator, "set")
    at_m = height_of(facts, regulator)
    above = zones[zone_of[facts.network.number[f"{regulator}/in"]]]
    if not isinstance(own, RegulatorOwn) or not isinstance(own.set, Quantity):
        return Zone((regulator,), None, at_m, path, path)
    about = own.set.text if own.set.about else ""
    above_pa = above.at_height(at_m)
    if above_pa is not None and above_pa < own.set.si:
        return Zone((regulator,), above_pa, at_m, above.path, None, above.about)
    return Zone((regulator,), own.set.si, at_m, path, None, about)


def _feeds_too(facts: Facts, zones: list[Zone], zone_of: dict[int, int], start: int, regulator: str) -> None:
    """A second regulator into a zone: the higher of the two counts."""
    number = zone_of[start]
    if not zones[number].regulators or regulator in zones[number].regulators:
        return
    other = _regulated(facts, zones, zone_of, regulator)
    both = (*zones[number].regulators, regulator)
    known = zones[number].pressure_pa
    if other.pressure_pa is None or (known is not None and other.pressure_pa > known):
        zones[number] = other._replace(regulators=both)
    else:
        zones[number] = zones[number]._replace(regulators=both)
