"""The house at peak drawn as one network, beside the code's sections."""

from collections.abc import Mapping

from plancheck.demand.loads import Loads
from plancheck.flow.capacity import cases
from plancheck.flow.flow import Flow
from plancheck.flow.house import Missing
from plancheck.flow.required import rate_of
from plancheck.model import Ref
from plancheck.record import NamedTuple


class PeakNetwork(NamedTuple):
    """The house at peak as one network: draws scaled so that the service has its peak flow.

    by: side -> pressure left, Pa, where it is known; draws: side -> m3/s; flow_m3s: of the service; share: of each
    fixture's rate that is drawn.
    """

    by: Mapping[str, float]
    draws: Mapping[str, float]
    flow_m3s: float
    share: float
    missing: Missing | None = None
    why: str = ""


def network_peak(flow: Flow, loads: Loads) -> PeakNetwork:
    """Every fixture draws the same share of its rate, so much that the service has its peak flow."""
    draws: dict[str, float] = {}
    for fixture in flow.house.fixtures.values():
        rate = rate_of(flow.facts.plan.parts[fixture.part])
        drawn = cases(flow, fixture, rate) if rate is not None else []
        if isinstance(drawn, Missing):
            return PeakNetwork({}, {}, 0.0, 0.0, drawn)
        for case in drawn:
            for side, one in case.items():
                draws[side] = draws.get(side, 0.0) + one / len(drawn)
    fed = {side: one for side, one in draws.items() if flow.way(side)}
    peak = max((load.by_units.flow_m3s or 0.0 for load in loads.values()), default=0.0)
    total = sum(fed.values())
    if not peak or not total:
        return PeakNetwork({}, {}, 0.0, 0.0, *_no_peak(loads))
    share = min(1.0, peak / total)
    scaled = {side: one * share for side, one in fed.items()}
    solution = flow.drawn(scaled)
    if solution.why:
        return PeakNetwork({}, {}, peak, share, None, solution.why)
    readings = {side: flow.reading(solution, Ref(*side.split("/", 1))) for side in scaled}
    known = {side: one.pa for side, one in readings.items() if one.missing is None and not one.why}
    return PeakNetwork(known, scaled, peak, share)


def _no_peak(loads: Loads) -> tuple[Missing | None, str]:
    """What is missing for a peak flow, or why there is none."""
    gap = next((load.by_units.missing[0] for load in loads.values() if load.by_units.missing), None)
    return (Missing(gap.path, gap.what), "") if gap is not None else (None, "nothing draws")
