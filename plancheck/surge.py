"""Water hammer: how fast a pressure wave runs in a tube, what stopping the water at once adds, what is near to soften it.

N. Joukowsky 1898: rise = density x wave speed x change of speed; wave speed by D. J. Korteweg 1878 for a thin wall:
a = sqrt((K / density) / (1 + K D / (E e))). Both from memory; the copper speeds were compared with a laboratory's. SI.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from plancheck.flow.required import GPM, rate_of
from plancheck.kinds import PEX
from plancheck.measures import Length, Size
from plancheck.measures.units import INCH_M
from plancheck.model import Part, Path, Ref, Run, Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import CPVC_WALL_IN, PEX_WALL_IN, tube_bore_m, tube_outside_m

if TYPE_CHECKING:
    from plancheck.facts import Facts

ICE_MAKER_M3S = 0.5 * GPM  # common practice
WATER_PA = 2.149e9  # bulk modulus
WATER_KG_M3 = 998.2


class Modulus(NamedTuple):
    """Young's modulus of a wall, Pa: a middle value and its range."""

    middle: float
    least: float
    most: float


COPPER = Modulus(124.1e9, 110e9, 130e9)
STEEL = Modulus(200e9, 190e9, 210e9)
PEX_WALL = Modulus(0.8e9, 0.6e9, 1.0e9)
CPVC_WALL = Modulus(2.9e9, 2.5e9, 3.2e9)
_LEAST_WALL_IN = {**dict.fromkeys(PEX - {"PEX-AL-PEX"}, PEX_WALL_IN), "CPVC": CPVC_WALL_IN}


def modulus_of(material: str | None) -> Modulus | None:
    """The modulus of a tube's material; None where it is not carried."""
    if material in PEX:
        return PEX_WALL if material != "PEX-AL-PEX" else None
    if material == "CPVC":
        return CPVC_WALL
    if material in ("copper", "brass"):
        return COPPER
    return STEEL if material in ("galvanised steel", "stainless steel", "ductile iron") else None


def wave_speed_m_s(bore_m: float, wall_m: float, modulus_pa: float) -> float:
    """The speed of a pressure wave in a full tube."""
    return math.sqrt(WATER_PA / WATER_KG_M3 / (1 + WATER_PA * bore_m / (modulus_pa * wall_m)))


def rise_pa(wave_m_s: float, stopped_m_s: float) -> float:
    """What stopping the water at once adds to the pressure."""
    return WATER_KG_M3 * wave_m_s * stopped_m_s


def wave_in(tube: Tube) -> float | None:
    """The wave speed in a tube of the plan by its least wall and its material; None where one of them is not known."""
    modulus, bore_m, outside_m = modulus_of(tube.material), tube_bore_m(tube), tube_outside_m(tube)
    if modulus is None or bore_m is None or outside_m is None:
        return None
    wall_m = (outside_m - bore_m) / 2
    if not isinstance(tube.wall, Length) and isinstance(tube.size, Size):
        wall_m = _LEAST_WALL_IN.get(tube.material or "", {}).get(tube.size.name, (wall_m / INCH_M,))[0] * INCH_M
    return wave_speed_m_s(outside_m - 2 * wall_m, wall_m, modulus.middle)


def longest_closing_s(length_m: float, wave_m_s: float) -> float:
    """The longest closing time that still counts as at once: the wave's way to the far end and back."""
    return 2 * length_m / wave_m_s


class Stopped(NamedTuple):
    """Water that a valve stops when it snaps shut.

    run and tube: the last ones before it; solved: whether flow_m3s is what the network gives with all else shut, and not
    the usual rate of such a valve; before_pa: the pressure the rise comes on top of, None where it is not known.
    """

    run: Run
    tube: Tube
    flow_m3s: float
    solved: bool
    speed_m_s: float
    rise_pa: float
    before_pa: float | None


def stopped_at(facts: Facts, part: Part, side: str) -> Stopped | None:
    """What a valve stops; None where its last tube or what it draws is not known."""
    run = last_run(facts, facts.network.number[f"{part.id}/{side}"])
    tube = facts.plan.tubes.get(run.tube or "") if run is not None else None
    bore_m, wave_m_s = (tube_bore_m(tube), wave_in(tube)) if tube is not None else (None, None)
    if run is None or tube is None or bore_m is None or wave_m_s is None:
        return None
    flow_m3s = _solved_m3s(facts, part, side)
    solved = flow_m3s is not None
    if flow_m3s is None:
        flow_m3s = ICE_MAKER_M3S if part.is_ == "ice maker" else rate_of(part)
    if flow_m3s is None:
        return None
    speed_m_s = flow_m3s / (math.pi / 4 * bore_m**2)
    return Stopped(run, tube, flow_m3s, solved, speed_m_s, rise_pa(wave_m_s, speed_m_s), _before_pa(facts, part, side))


def last_run(facts: Facts, vertex: int) -> Run | None:
    """The run that brings the water to a vertex, found from there back towards the source."""
    graph, parents = facts.network, facts.traced.parents
    while parents.get(vertex, -1) >= 0:
        edge = graph.edges[parents[vertex]]
        if edge.run is not None:
            return facts.plan.runs[edge.run]
        vertex = edge.a if edge.b == vertex else edge.b
    return None


def _solved_m3s(facts: Facts, part: Part, side: str) -> float | None:
    """What a side draws with all else shut; None where the network lacks a fact, or has no such valve."""
    fixture = facts.flow.house.fixtures.get(part.id)
    edge = fixture.sides.get(side) if fixture is not None else None
    if edge is None or part.is_ == "toilet":  # its opening there is a tank's fill valve
        return None
    solution = facts.flow.opened((edge,))
    if solution.why or facts.flow.unknown(solution) is not None:
        return None
    return solution.flows.get(edge) or None


def _before_pa(facts: Facts, part: Part, side: str) -> float | None:
    """The standing pressure at a side: at its height, else that of its zone."""
    found = facts.flow.standing(Ref(part.id, side))
    if found.missing is None and not found.why:
        return found.pa
    zone = facts.standing.at(facts.network.number[f"{part.id}/{side}"])
    return zone.pressure_pa if zone is not None else None


class Near(NamedTuple):
    """An arrestor found along the pipe: the part, how far, and the key of a length nobody says."""

    part: Part
    m: float
    missing: Path | None


def nearest_arrestor(facts: Facts, start: int, far_m: float) -> Near | None:
    """The nearest arrestor on the pipe of a vertex, before any valve, a manifold and a regulator, looked for up to far_m."""
    graph, parts = facts.network, facts.plan.parts
    stops = frozenset(graph.valves.values()) | graph.hearts
    done = {start}
    frontier: list[tuple[int, float, Path | None]] = [(start, 0.0, None)]
    found: list[Near] = []
    for vertex, so_far, missing in frontier:  # grows while it is walked
        for number in graph.touching[vertex]:
            edge = graph.edges[number]
            other = edge.b if edge.a == vertex else edge.a
            if other in done or other in stops:
                continue
            done.add(other)
            m = facts.run_length_m(edge.run) if edge.run is not None else 0.0
            unsaid: Path | None = ("runs", edge.run or "", "length") if m is None else None
            here = so_far + (m or 0.0), missing or unsaid
            part = parts.get(graph.names[other].partition("/")[0])
            if part is not None and part.is_ == "arrestor" and part.work != "removed":
                found.append(Near(part, *here))
            elif here[0] <= far_m and (part is None or part.is_ not in ("manifold", "regulator")):
                frontier.append((other, *here))
    return min(found, key=lambda near: near.m) if found else None
