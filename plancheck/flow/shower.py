"""The shower when something else opens: its mixed water before and after, without compensation."""

from plancheck.flow.fixtures import mixing_law
from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture, Missing
from plancheck.hydraulics.plain import Darcy, HazenWilliams, Law, Linear, Outlet, Quadratic, Regulator
from plancheck.hydraulics.solving import Solution
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, MixingOwn, Ref
from plancheck.record import NamedTuple

BATHING_C = (105.0 - 32.0) / 1.8
_NEAR_C = 0.005
_MOST_TRIES = 12
_LESS = 0.9  # what a second opening takes of what it would take with nothing lost
_FURTHER = 1.035  # as tried on sample houses: two solutions do where three did


class Mixed(NamedTuple):
    """A shower's water: temperature, degC; flow, m3/s; heads of its hot and cold connection, m; share its valve stands at."""

    celsius: float
    flow_m3s: float
    hot_m: float
    cold_m: float
    share: float


class Swing(NamedTuple):
    """A shower before and after something opens. missing or why: why it is not known (then both are None)."""

    shower: str
    cause: str
    side: str
    before: Mixed | None = None
    after: Mixed | None = None
    missing: Missing | None = None
    why: str = ""

    @property
    def change_c(self) -> float:
        """How much warmer it gets, degC."""
        return self.after.celsius - self.before.celsius if self.after is not None and self.before is not None else 0.0


def trimmed(flow: Flow, fixture: Fixture, target_c: float = BATHING_C) -> tuple[Mixed | None, Missing | None, str]:
    """The shower alone, its valve set so that its water has the target temperature: the water, what is missing, why not.

    Where the hot water that reaches it is no warmer than the target, the valve stands at hot alone: no mix is warmer.
    """
    cold_c, hot_c = flow.house.cold_c, hot_at(flow, fixture.part)
    if cold_c is None:
        return None, Missing(("water", "coldest"), "the coldest water of the year"), ""
    if isinstance(hot_c, Missing):
        return None, hot_c, ""
    if cold_c >= min(target_c, hot_c):
        return None, None, "its hot water is no warmer than its cold"
    target_c = min(target_c, hot_c)
    wanted = share = (target_c - cold_c) / (hot_c - cold_c)
    low, high = 0.0, 1.0
    solution: Solution | None = None
    for _ in range(_MOST_TRIES):
        solution = flow.opened(fixture.mixed, laws_at(fixture, share), solution)
        missing = flow.unknown(solution)
        if missing is not None or solution.why:
            return None, missing, solution.why
        found = mixed_in(flow, solution, fixture, share, cold_c, hot_c)
        off = found.celsius - target_c
        if abs(off) <= _NEAR_C or wanted >= 1.0:
            return found, None, ""
        low, high = (share, high) if off < 0 else (low, share)
        step = _turned(share, wanted, (found.celsius - cold_c) / (hot_c - cold_c))
        share = step if low < step < high else (low + high) / 2.0
    return found, None, ""


def _turned(share: float, wanted: float, got: float) -> float:
    """A valve turned so that hot to cold goes from the proportion it gives to the one wanted.

    A little further than the same pressures would ask, since they move with it.
    """
    if not 0.0 < got < 1.0:
        return wanted
    odds: float = share / (1.0 - share) * (wanted / (1.0 - wanted) * ((1.0 - got) / got)) ** _FURTHER
    return odds / (1.0 + odds)


def swing(flow: Flow, fixture: Fixture, side: str, before: Mixed) -> Swing:
    """The shower, trimmed alone as `before`, when the other opening (an edge) opens as well."""
    cold_c, hot_c = flow.house.cold_c, hot_at(flow, fixture.part)
    assert cold_c is not None and not isinstance(hot_c, Missing)
    laws = laws_at(fixture, before.share)
    solution = flow.opened((*fixture.mixed, side), laws, _with_it(flow, flow.opened(fixture.mixed, laws), side))
    which = side.rpartition("/")[2]
    missing = flow.unknown(solution)
    if missing is not None or solution.why:
        return Swing(fixture.part, side, which, missing=missing, why=solution.why)
    after = mixed_in(flow, solution, fixture, before.share, cold_c, hot_c)
    return Swing(fixture.part, side, which, before, after)


def _with_it(flow: Flow, alone: Solution, side: str) -> Solution:
    """Where to begin looking when one more opening opens: its water added along its way to what flows already."""
    law, head = flow.edges[side].law, alone.heads.get(flow.edges[side].a)
    if not isinstance(law, Outlet):
        return alone
    air = flow.house.network.heads[flow.edges[side].b]
    more = min((max((head or 0.0) - air, 10.0) / law.r) ** 0.5 * _LESS, law.most_m3s)
    flows, node = dict(alone.flows), flow.edges[side].a
    flows[side] = more
    for name in reversed(flow.way(side)):
        edge = flow.edges[name]
        forward = edge.b == node
        flows[name] = flows.get(name, 0.0) + (more if forward else -more)
        node = edge.a if forward else edge.b
    return alone._replace(flows=flows)


def laws_at(fixture: Fixture, share: float) -> dict[str, Law]:
    """The laws of a fixture's mixing valve that stands at a share of hot."""
    hot, cold, _ = fixture.mixed
    return {hot: mixing_law(share), cold: mixing_law(1.0 - share)}


def mixed_in(flow: Flow, solution: Solution, fixture: Fixture, share: float, cold_c: float, hot_c: float) -> Mixed:
    """A shower's water in a solution."""
    hot, cold, _ = fixture.mixed
    warm, cool = max(solution.flows[hot], 0.0), max(solution.flows[cold], 0.0)
    total = warm + cool
    celsius = (warm * hot_c + cool * cold_c) / total if total > 0 else cold_c
    hot_m = solution.heads.get(flow.house.node(f"{fixture.part}/hot")) or 0.0
    cold_m = solution.heads.get(flow.house.node(f"{fixture.part}/cold")) or 0.0
    return Mixed(celsius, total, hot_m, cold_m, share)


def hot_at(flow: Flow, part: str) -> float | Missing:
    """The temperature of the hot water that reaches a fixture: as the heater, or the valve behind it, is set."""
    graph, traced = flow.facts.network, flow.facts.traced
    by = traced.heated.get(graph.number.get(f"{part}/hot", -1))
    if by is None:
        return Missing(("parts", part, "hot"), "hot water that is traced to it")
    own = flow.facts.plan.parts[by].own
    said = own.set if isinstance(own, HeaterOwn | MixingOwn) else None
    return said.si if isinstance(said, Quantity) else Missing(("parts", by, "set"), "the temperature it is set to")


def rivals(flow: Flow, fixture: Fixture, side: str) -> list[tuple[float, str]]:
    """The openings of one side (cold or hot) that pull most on the shower's own way, the strongest first.

    Each with its pull: the loss its flow makes on what only this side of the shower shares with it.
    """
    own = set(flow.way(f"{fixture.part}/{side}"))
    other = "hot" if side == "cold" else "cold"
    alone = own.difference(flow.way(f"{fixture.part}/{other}"))
    laws = {edge.id: edge.law for edge in flow.house.network.edges}
    found = []
    for one in flow.house.fixtures.values():
        if one.part == fixture.part or side not in one.sides:
            continue
        rate = one.opening.flow_m3s
        pull = sum(_loss(laws[edge], rate) for edge in alone.intersection(flow.way(Ref(one.part, side))))
        if pull > 0.0:
            found.append((pull, one.sides[side]))
    return sorted(found, reverse=True)


def _loss(law: Law, flow_m3s: float) -> float:
    if isinstance(law, Darcy | HazenWilliams):
        return (law.length_m / law.bore_m + 1.0) * flow_m3s**2 / law.bore_m**4
    if isinstance(law, Linear | Regulator):
        return 0.0
    return law.r * flow_m3s**2 if isinstance(law, Quadratic | Outlet) or law.r else 0.0


def worst_swings(flow: Flow, fixture: Fixture) -> dict[str, Swing]:
    """By side (cold, hot) the shower's swing when that opening opens which pulls most on its way; a side without one is
    left out."""
    before, missing, why = trimmed(flow, fixture)
    found = {}
    for side in ("cold", "hot"):
        others = rivals(flow, fixture, side)
        if before is None:
            found[side] = Swing(fixture.part, "", side, missing=missing, why=why)
        elif others:
            found[side] = swing(flow, fixture, others[0][1], before)
    return found


def showers(flow: Flow) -> list[Fixture]:
    """The showers and tub-and-showers with both sides fed."""
    return [one for one in flow.house.fixtures.values() if one.kind in ("shower", "tub and shower") and one.mixed]
