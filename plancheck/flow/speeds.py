"""How fast water runs: each run at its peak flow and at its largest single outlet."""

from collections.abc import Iterator
from math import inf, pi

from plancheck.demand.loads import Loads
from plancheck.flow.capacity import cases, mixes
from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture, Missing
from plancheck.flow.pipes import bore_key
from plancheck.flow.required import rate_of, stated_m3s
from plancheck.model import Part
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_bore_m


class Speed(NamedTuple):
    """The speed in a run, m/s, at a flow, m3/s; of: what asks for it; split: it lies on a ring and this is one side's
    solved part, whole_m_s: with the other side shut; missing: why not."""

    m_s: float
    flow_m3s: float
    of: str
    bore_m: float
    split: bool = False
    whole_m_s: float = 0.0
    missing: Missing | None = None


def speed_in(flow: Flow, loads: Loads, run: str) -> Speed:
    """The fastest that water runs in a run."""
    plan = flow.facts.plan
    tube = plan.tubes.get(plan.runs[run].tube or "")
    bore_m = tube_bore_m(tube) if tube is not None else None
    if bore_m is None:
        path = ("tubes", plan.runs[run].tube or "", bore_key(tube))
        return Speed(0.0, 0.0, "", 0.0, missing=Missing(path, "the bore of the tube"))
    behind = flow.behind().get(run, Behind())
    single, of = behind.largest_m3s, behind.of
    load = loads.get(run)
    peak = load.by_units if load is not None else None
    flow_m3s = peak.flow_m3s if peak is not None and peak.flow_m3s is not None else None
    area = pi / 4.0 * bore_m**2
    if flow_m3s is None:
        gap = peak.missing[0] if peak is not None and peak.missing else None
        if gap is not None and not single:
            return Speed(0.0, 0.0, "", bore_m, missing=Missing(gap.path, gap.what))
        return Speed(
            single / area, single, of, bore_m, missing=Missing(gap.path, gap.what) if gap is not None else None
        )
    if behind.all_m3s:
        flow_m3s = min(flow_m3s, max(behind.all_m3s, single))  # no more runs than all of them take
    most, what = (flow_m3s, "peak") if flow_m3s > single else (single, of)
    if flow.facts.carried(run).ring:
        part = _ring_part(flow, loads, run)
        if part is not None:
            return Speed(max(part, 0.0) / area, part, what, bore_m, True, most / area)
    return Speed(most / area, most, what, bore_m)


class Behind(NamedTuple):
    """The outlets whose water comes through a run: the largest single rate, m3/s, of which, and what all of them take at
    once, each at its rate or at what it usually takes where that is less."""

    largest_m3s: float = 0.0
    of: str = ""
    all_m3s: float = 0.0


def outlets_behind(flow: Flow) -> dict[str, Behind]:
    """For each run or part what outlets lie behind it; a fixture with two sides counts on both where both come through."""
    ends: dict[str, Behind] = {}
    for fixture in flow.house.fixtures.values():
        for side, own in _sides(flow, fixture):
            node = flow.house.node(side)
            ends[node] = _joined(ends[node], own) if node in ends else own
    found: dict[str, Behind] = {}
    for edge, own in flow.gathered(ends, _joined).items():
        thing = flow.house.pieces[edge].thing
        if thing not in found or own.all_m3s > found[thing].all_m3s:
            found[thing] = own
    return found


def _sides(flow: Flow, fixture: Fixture) -> Iterator[tuple[str, Behind]]:
    """Each side of a fixture with what it takes: its part of a mixed rate, else the whole of it."""
    part = flow.facts.plan.parts[fixture.part]
    name, usual, rate = flow.facts.part_name(part.id), fixture.opening.flow_m3s, _rate(flow, fixture, part)
    if part.is_ == "rest of house":  # nobody knows what else may open there
        for side in fixture.sides.values():
            yield side, Behind(usual if fixture.opening.said else 0.0, name, inf)
        return
    drawn = cases(flow, fixture, rate) if rate is not None else []
    if isinstance(drawn, Missing):
        drawn = mixes(flow, fixture, rate or 0.0, flow.house.hot_c)
    for side in fixture.sides.values():
        if rate is None:
            yield side, Behind(0.0, name, usual)
            continue
        whole = max(case.get(side, 0.0) for case in drawn)
        yield side, Behind(whole, name, whole * min(1.0, usual / rate) if rate > 0.0 else 0.0)


def _rate(flow: Flow, fixture: Fixture, part: Part) -> float | None:
    """The flow an outlet is reckoned with; more where the plan states more and that is what flows with all else shut."""
    rate, stated = rate_of(part), stated_m3s(part)
    if rate is None or stated <= rate or not fixture.sides:
        return rate
    runs = []
    for edge in fixture.sides.values():  # each side alone: how wide its mixing valve is nobody states
        solution = flow.opened((edge,))
        known = not solution.why and flow.unknown(solution) is None
        runs.append(solution.flows.get(edge, 0.0) if known else stated)
    return max(rate, min(stated, max(runs)))


def _joined(one: Behind, other: Behind) -> Behind:
    larger = one if one.largest_m3s >= other.largest_m3s else other
    return Behind(larger.largest_m3s, larger.of, one.all_m3s + other.all_m3s)


def _ring_part(flow: Flow, loads: Loads, run: str) -> float | None:
    """What a run on a ring carries at peak, with the house drawn as one network."""
    peak = flow.network_peak(loads)
    solution = flow.drawn(peak.draws) if peak.missing is None and not peak.why else None
    return abs(solution.flows[run]) if solution is not None and run in solution.flows else None
