"""Water not too fast for the pipe

Looks at: the speed of the water in each run, at the larger of its peak flow by fixture units and its largest single
    outlet (at the rate of the table, or the one the plan states where more than that flows), by the true average bore of
    the tube. A run on a ring is judged by its part of the flow, the rest goes round
    the other way; where it would be too fast only with the other side shut, that is said and not counted.
Why: fast water is loud, it hammers when it is stopped, and in copper it wears the wall away from within, hot water
    soonest; then the first pinholes come at the ells.
To mend: run the stretch a size larger, or split it.
Cannot see: the throats of fittings, which are faster still; air, sand and aggressive water; how loud it is. What a pump
    drives through a hot loop is looked at by `circulation_loop`.
Ask: the tube maker for his own limit; some local codes print 8 ft/s for all pipe and 5 ft/s for hot copper.
"""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    FOOT_M,
    PEX,
    PRACTICE,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Quantity,
    Rule,
    Run,
    Size,
    Source,
    Subject,
    Tube,
    Value,
    broken,
    holds,
    listed,
    printed,
    recalled,
    tube_of,
)

_STATE = printed("NSPC", "New Jersey", "10.14.1")


def _speed(id_: str, title: str, fps: float, source: Source = PRACTICE) -> Limit:
    value = Value(fps * FOOT_M, source, practice=True)
    return Limit(id_, f"speed of water in {title}", "speed", "at most", practice=(value,))


COPPER_COLD = _speed("copper_cold", "copper, cold", 8, _STATE)
COPPER_HOT = _speed("copper_hot", "copper, hot", 5, _STATE)
COPPER_HOTTER = _speed("copper_hotter", "copper over 140 degF", 3, recalled("Copper Tube Handbook", "", "sizing"))
OTHER = _speed("other", "CPVC and other pipe", 8, _STATE)
PEX_COLD = _speed("pex_cold", "PEX, cold", 10)
PEX_HOT = _speed("pex_hot", "PEX, hot", 8)
RULE = Rule("correction", "layout", (COPPER_COLD, COPPER_HOT, COPPER_HOTTER, OTHER, PEX_COLD, PEX_HOT))

_GRACE_M_S = 0.005 * FOOT_M
_SHORT_M = 2 * FOOT_M
_HOT_C = 60.3  # 140 degF and the grace of a reading


class Stretch(NamedTuple):
    """Runs in series that carry the same water in the same tube; the longest is named."""

    run: Run
    tube: Tube
    others: tuple[str, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run that is not a connector or a stub between two devices; runs in series once."""
    plan = facts.plan
    stretches: dict[tuple[object, ...], list[Run]] = {}
    for run in plan.runs.values():
        tube = tube_of(run, plan)
        carried = facts.carried(run.id)
        if run.work == "removed" or tube is None or tube.form == "connector" or not carried.fed:
            continue
        length_m = facts.run_length_m(run.id)
        if carried.service == "hot return" or (length_m is not None and length_m < _SHORT_M):
            continue
        load = facts.loads.get(run.id)
        flow = load.by_units.flow_m3s if load is not None else None
        behind = facts.flow.behind().get(run.id)
        alike = (run.tube, carried.service, carried.circuit, flow, behind) if flow is not None else (run.id,)
        stretches.setdefault(alike, []).append(run)
    for runs in stretches.values():
        first = max(runs, key=lambda run: facts.run_length_m(run.id) or 0.0)
        tube = plan.tubes[first.tube or ""]
        places = facts.run_places(first.id)
        others = tuple(run.id for run in runs if run is not first)
        yield Subject(("runs", first.id), first.id, places[-1] if places else None, Stretch(first, tube, others))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether water runs no faster than the pipe takes."""
    stretch: Stretch = subject.thing
    run, tube = stretch.run, stretch.tube
    limit = limits.of(_limit(run, tube, facts))
    speed = facts.flow.speed(facts.loads, run.id)
    measured = Measured(speed.m_s, "speed")
    too_fast = speed.m_s > limit.number + _GRACE_M_S
    if speed.missing is not None and not too_fast:
        raise NotShown(speed.missing.path, speed.missing.what)
    if not too_fast and speed.m_s > limits.of(COPPER_HOTTER).number + _GRACE_M_S:
        _known_hot(run, tube, facts)
    if too_fast:
        return _broken(stretch, speed.flow_m3s, speed.of, speed.m_s, limit, facts)
    if speed.split and speed.whole_m_s > limit.number + _GRACE_M_S:
        whole = facts.quantity(speed.whole_m_s, "speed")
        return holds(f"on a ring; with the other side shut {whole}", measured, limit)
    return holds("", measured, limit)


def _limit(run: Run, tube: Tube, facts: Facts) -> Limit:
    carried = facts.carried(run.id)
    hot = carried.service in ("hot", "hot return", "mixed")
    if tube.material == "copper":
        if not hot:
            return COPPER_COLD
        said = facts.hot_set(run.id)
        return COPPER_HOTTER if isinstance(said, Quantity) and said.si > _HOT_C else COPPER_HOT
    if tube.material in PEX:
        return PEX_HOT if hot else PEX_COLD
    return OTHER


def _known_hot(run: Run, tube: Tube, facts: Facts) -> None:
    """Raises NotShown where hot copper would be too fast only over 140 degF, and nobody says how hot its water is."""
    carried = facts.carried(run.id)
    if _limit(run, tube, facts) is COPPER_HOT and not isinstance(facts.hot_set(run.id), Quantity) and carried.heated_by:
        raise NotShown(("parts", carried.heated_by, "set"), "how hot the water is: over 140 degF copper takes less")


def _larger(larger: tuple[str, float] | None, limit: InForce, facts: Facts) -> str:
    """The next size, and whether that is enough."""
    if larger is None:
        return "Run it a size larger."
    size, m_s = larger
    speed = facts.quantity(m_s, "speed")
    if m_s <= limit.number:
        return f"Run it in {size} in ({speed})."
    return f"{size} in alone is not enough ({speed}): run it larger still, or share its load out over more pipes."


def _broken(stretch: Stretch, flow_m3s: float, of: str, m_s: float, limit: InForce, facts: Facts) -> Outcome:
    run, tube = stretch.run, stretch.tube
    fast, most = facts.quantity(m_s, "speed"), facts.quantity(limit.number, "speed")
    drawn = facts.quantity(flow_m3s, "flow")
    when = "at peak" if of == "peak" else f"for {of}"
    larger = facts.flow.larger(tube, flow_m3s)
    size = f"{tube.size.words} " if isinstance(tube.size, Size) else ""
    mend = _larger(larger, limit, facts)
    with_it = f" The same for {listed(stretch.others)}." if stretch.others else ""
    return broken(
        f"{run.id}, {size}{tube.material}: {drawn} {when} is {fast}; at most {most}.",
        "correction" if not limit.practice else "advice",
        measured=Measured(m_s, "speed"),
        limit=limit,
        found=f"{fast} at {drawn}",
        needed=f"at most {most}",
        mend=mend + with_it,
        cause=_cause(stretch, facts),
    )


def _cause(stretch: Stretch, facts: Facts) -> Path | None:
    """Where it is told that the pipe is under the smallest size, or that its hot water goes to cold sides too."""
    run, size = stretch.run, stretch.tube.size
    least = 0.75 if any(one.id == run.id for one in facts.flow.common_runs()) else 0.5
    if isinstance(size, Size) and size.rank < least - 0.06:  # 20 mm tube counts as 3/4
        return ("runs", run.id)
    from plancheck.astray import runs_astray

    return runs_astray(facts).get(run.id)
