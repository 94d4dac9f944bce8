"""How much of the pressure a manifold takes, for the outlet on it that loses most at peak."""

from plancheck.demand.loads import Loads
from plancheck.flow.flow import Flow
from plancheck.flow.house import Missing
from plancheck.flow.split import split_loss
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import ManifoldOwn, Part, Ref
from plancheck.record import NamedTuple


class Taken(NamedTuple):
    """The losses, Pa, by part of the way to the worst side on a manifold; missing, why: why they are not known."""

    side: str
    losses_pa: dict[str, float]
    missing: Missing | None = None
    why: str = ""

    @property
    def total_pa(self) -> float:
        """All that is lost."""
        return sum(self.losses_pa.values())


def taken_by(flow: Flow, loads: Loads, part: Part) -> Taken:
    """What the way to the worst outlet side on a manifold loses at peak, drawn as one network."""
    peak = flow.network_peak(loads)
    if peak.missing is not None or peak.why:
        return Taken("", {}, peak.missing, peak.why)
    solution = flow.drawn(peak.draws)
    missing = flow.unknown(solution)
    if missing is not None or solution.why:
        return Taken("", {}, missing, solution.why)
    lost = {side: flow.standing(Ref(*side.split("/", 1))).pa - peak.by[side]
            for side in sides_on(flow, part) if side in peak.by}  # fmt: skip
    if not lost:
        return Taken("", {})
    worst = max(lost, key=lambda side: lost[side])
    losses = split_loss(flow, flow.route(solution, worst), part.id)
    return Taken(worst, {name: loss * WATER_PA_PER_M for name, loss in losses.items()})


def sides_on(flow: Flow, part: Part) -> list[str]:
    """The outlet sides that hang on a manifold's circuits."""
    if not isinstance(part.own, ManifoldOwn):
        return []
    graph, circuits = flow.facts.network, flow.facts.traced.circuits
    return [name for name, tap in graph.outlets.items() if circuits.get(tap, "").partition("/")[0] == part.id]


def used_ports(flow: Flow, part: Part) -> list[str]:
    """The ports of a manifold on which some outlet hangs, in order."""
    if not isinstance(part.own, ManifoldOwn):
        return []
    graph, circuits = flow.facts.network, flow.facts.traced.circuits
    used = {circuits.get(tap, "") for tap in graph.outlets.values()}
    return [port for port in part.own.ports if f"{part.id}/{port}" in used]
