"""Each outlet gets its rate at its pressure, alone and at peak

Looks at: the pressure left at the stub-outs of each outlet (at the valve body of showers and tubs) while it draws the
    rate that the code family names for it, or the lower one its maker gives: first with all else shut, then with every
    pipe on its way carrying its peak by fixture units, as the code sizes pipe. Losses are computed: tube by bore, length
    and temperature of the water, fittings by how they are joined, meter, regulator, height. A mixing valve draws at
    105 degF, of two handles each draws the whole in turn. At peak under the UPC a regulator counts with 0.8 of its set.
Why: a shower that dribbles on the top floor, a tub that takes an hour: nobody sees it on the drawing, and no fitting
    changed later mends a pipe that is too thin.
To mend: enlarge the pipe that loses most, shorten the way, or raise the regulator within what the house may have.
Cannot see: lime in old pipe, a valve half shut, what the street gives at other hours, stops and connectors behind the
    stub-out; fittings may lose half as much again or half as little, and a figure near the limit says so.
Ask: the inspector which outlets he has flowing when he looks; the makers of valves for their own least pressure.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GPM_M3S,
    OUTLET_ROWS,
    PRACTICE,
    PSI_PA,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    outlet_draw,
    outlet_rows,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.flow.capacity import Left
    from plancheck.flow.required import Row

_IRC, _IPC = printed("IRC", "2018", "P2903.1"), printed("IPC", "2018", "604.3")
_UPC = printed("UPC", "2021", "608.1")
_OLD_IRC, _OLD_IPC = recalled("IRC", "2006", "P2903.1"), recalled("IPC", "2003", "604.3")


def _rate(id_: str, row: Row) -> Limit:
    """The flow of one kind of outlet; under the UPC the IRC's rates are taken, as practice."""
    value = row.flow_m3s
    irc = () if row.ipc_only else (Value(value, _IRC),)
    ipc, practice = (Value(value, _IPC),), (Value(value, PRACTICE),)
    return Limit(f"{id_}_rate", f"flow of {row.title}", "flow", "at least", irc, ipc, (), practice)


def _pressure(id_: str, row: Row) -> Limit:
    """The least flowing pressure of one kind of outlet."""
    irc: tuple[Value, ...] = (Value(row.pressure_pa, _IRC, since=2012),)
    ipc: tuple[Value, ...] = (Value(row.pressure_pa, _IPC, since=2009),)
    if row.older_pa is not None:
        irc = (Value(row.older_pa, _OLD_IRC, since=2003), *irc)
        ipc = (Value(row.older_pa, _OLD_IPC, since=2003), *ipc)
    upc = (Value(15 * PSI_PA, _UPC),)
    title = f"pressure at {row.title}"
    practice = (Value(row.pressure_pa, PRACTICE, practice=True),) if row.ipc_only else ()
    return Limit(f"{id_}_pressure", title, "pressure", "at least", () if row.ipc_only else irc, ipc, upc, practice)


_ROWS = {
    name: (_rate(name.replace(" ", "_"), row), _pressure(name.replace(" ", "_"), row))
    for name, row in OUTLET_ROWS.items()
}
WASHER_RATE = Limit("washer_rate", "flow of a clothes washer", "flow", "at least",
                    practice=(Value(4 * GPM_M3S, printed("NSPC", "", "10.14.2"), practice=True),))  # fmt: skip
WASHER_PRESSURE = Limit("washer_pressure", "pressure at a clothes washer", "pressure", "at least",
                        practice=(Value(8 * PSI_PA, PRACTICE, practice=True),),
                        upc=(Value(15 * PSI_PA, _UPC),))  # fmt: skip
REGULATOR_SHARE = Limit("regulator_share", "share of a regulator's set that counts at peak", "count", "at most",
                        upc=(Value(0.8, printed("UPC", "2021", "608"), practice=False),),
                        practice=(Value(1.0, PRACTICE, practice=True),))  # fmt: skip
GREY_PRESSURE = Limit("grey_zone", "a computed pressure this near its limit is too close to call", "pressure", "at most",
                      practice=(Value(1 * PSI_PA, PRACTICE, practice=True),))  # fmt: skip
GREY_SHARE = Limit("grey_share", "or this near it, as a share of what the flow costs on the way", "count", "at most",
                   practice=(Value(0.1, PRACTICE, practice=True),))  # fmt: skip
_LIMITS = tuple(limit for row in _ROWS.values() for limit in row)
RULE = Rule(
    "correction", "layout", (*_LIMITS, WASHER_RATE, WASHER_PRESSURE, REGULATOR_SHARE, GREY_PRESSURE, GREY_SHARE)
)

_GRACE_PA = 0.05 * PSI_PA
_RAISE = "Raise the pressure: no pipe size helps where the standing pressure is below it."


class Question(NamedTuple):
    """One outlet, alone or at peak; rows: of the table, several where its make is not said; what: which outlet of it."""

    part: Part
    peak: bool
    rows: tuple[str, ...]
    what: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Every outlet twice; a tub and shower is two outlets."""
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        for rows, what in _rows(part):
            name = f"{facts.part_name(part.id)}{what}"
            alone, peak = Question(part, False, rows, what), Question(part, True, rows, what)
            yield Subject(_path(alone), f"{name} alone", part.place, alone)
            yield Subject((*_path(peak), "peak"), f"{name} at peak", part.place, peak)


def _rows(part: Part) -> Iterator[tuple[tuple[str, ...], str]]:
    if part.is_ == "tub and shower":
        yield ("bathtub",), " spout"
        yield ("shower",), " head"
    elif part.is_ == "clothes washer" or outlet_rows(part):
        yield outlet_rows(part) or (part.is_,), ""


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether enough pressure is left; the answer must be one for every make the outlet may be of."""
    question: Question = subject.thing
    outcomes = [_judged(question, row, facts, limits) for row in question.rows]
    if len({outcome.kind for outcome in outcomes}) > 1:
        raise NotShown(("parts", question.part.id, "style"), "how the toilet is made: the answer depends on it")
    return outcomes[0] if outcomes[0].severity else outcomes[-1]  # short however it is made: the mildest is sure


def _judged(question: Question, row: str, facts: Facts, limits: Limits) -> Outcome:
    part, fixture = question.part, facts.flow.house.fixtures.get(question.part.id)
    rate = limits.of(_ROWS[row][0] if row in _ROWS else WASHER_RATE)
    least = limits.of(_ROWS[row][1] if row in _ROWS else WASHER_PRESSURE)
    if fixture is None or not fixture.sides:
        raise NotShown(("parts", part.id), "a pipe that leads water to it")
    for side, edge in fixture.sides.items():
        if not facts.flow.is_fed(edge):
            raise NotShown(("parts", part.id), f"water that reaches its {side} side")
    flow_m3s = outlet_draw(part, row, rate.number)
    alone = facts.flow.alone(fixture, flow_m3s)
    short_alone = alone.pa < least.number - _GRACE_PA
    if not question.peak and not (short_alone and alone.missing is None and not alone.why):
        return _answer(question, alone, least, flow_m3s, facts, limits)
    left = facts.flow.at_peak(fixture, flow_m3s, facts.loads, limits.of(REGULATOR_SHARE).number)
    if question.peak:
        outcome = _answer(question, left, least, flow_m3s, facts, limits)
        return outcome._replace(cause=_path(question)) if outcome.severity and short_alone else outcome
    return _by_itself(question, (alone, left), least, flow_m3s, facts, limits)


def _by_itself(
    question: Question, lefts: tuple[Left, Left], least: InForce, flow_m3s: float, facts: Facts, limits: Limits
) -> Outcome:
    """What is short alone: at peak it follows, but where it is close alone and plainly short at peak it is told there."""
    outcome, peak = _answer(question, lefts[0], least, flow_m3s, facts, limits), lefts[1]
    if outcome.severity == "advice" and outcome.cause is None and peak.missing is None and not peak.why:
        at_peak = _short(question._replace(peak=True), peak, least, flow_m3s, facts, limits, "")
        return outcome._replace(cause=(*_path(question), "peak")) if at_peak.severity == "correction" else outcome
    return outcome


def _answer(question: Question, left: Left, least: InForce, flow_m3s: float, facts: Facts, limits: Limits) -> Outcome:
    """Compares what is left with the least."""
    missing, why, pa = left.missing, left.why, left.pa
    if missing is not None:
        raise NotShown(missing.path, missing.what)
    if why:
        raise NotShown(("parts", question.part.id), f"an answer of the computation ({why})")
    estimate = facts.flow.estimates(left.edges, left.side)
    if pa >= least.number - _GRACE_PA:
        return holds("", Measured(pa, "pressure"), least, estimate)
    return _short(question, left, least, flow_m3s, facts, limits, estimate)


def _short(
    question: Question, left: Left, least: InForce, flow_m3s: float, facts: Facts, limits: Limits, estimate: str
) -> Outcome:
    pa, static, friction = left.pa, left.static_pa, left.friction_pa
    name = f"{facts.part_name(question.part.id)}{question.what}"
    when = "At peak" if question.peak else "Alone"
    found, needed = facts.quantity(max(pa, 0.0), "pressure"), facts.quantity(least.number, "pressure")
    drawn = facts.quantity(flow_m3s, "flow")
    grey = max(limits.of(GREY_PRESSURE).number, limits.of(GREY_SHARE).number * friction)
    close = least.number - pa <= grey
    weak = static < least.number - _GRACE_PA
    old = facts.flow.all_existing(left.edges)
    better = "" if weak else facts.flow.better(left, least.number)
    if weak:
        before = f"{facts.quantity(max(static, 0.0), 'pressure')} before any water runs"
        says = f"{when} {name} has no more than {before}; needs {needed} at {drawn}."
    elif pa < 0:
        says = f"{when} no pressure is left at {name} for {drawn}; needs {needed}."
    else:
        says = f"{when} {name} has {found} left at {drawn}; needs {needed}."
    return broken(
        says,
        "advice" if close or old else "correction",
        measured=Measured(max(pa, 0.0), "pressure"),
        limit=least,
        found=f"{found} at {drawn}; {_beside(question, left, facts)}",
        needed=f"at least {needed} at {drawn}",
        mend=_RAISE if weak else better,
        caution="Too close to call by computation: gauge it." if close else "",
        cause=_weak_at(left, facts) if weak else _told_at(left, facts) if question.peak else None,
        estimate=estimate,
    )


def _told_at(left: Left, facts: Facts) -> Path | None:
    """What is short at peak by: the service that takes the most, or hot water that goes to cold sides on the same pipe."""
    service = facts.flow.bottleneck(left)
    if service is not None:
        return service
    from plancheck.astray import runs_astray

    astray, pieces = runs_astray(facts), facts.flow.house.pieces
    return next((astray[pieces[edge].thing] for edge in left.edges if pieces[edge].thing in astray), None)


def _weak_at(left: Left, facts: Facts) -> Path:
    """Where the standing pressure that is too low is told: in the reading, or at the regulator."""
    vertex = facts.network.number.get(left.side)
    zone = facts.standing.at(vertex) if vertex is not None else None
    return zone.path if zone is not None else ("water", "static")


def _beside(question: Question, left: Left, facts: Facts) -> str:
    """The other figures of the same outlet: standing, and at peak as one network."""
    words = f"{facts.quantity(left.static_pa, 'pressure')} with no water running"
    if not question.peak:
        return words
    if facts.family == "upc" and any(facts.flow.house.pieces[edge].kind == "regulator" for edge in left.edges):
        words += ", the regulator at 0.8 of its set"
    network = facts.flow.network_peak(facts.loads).by.get(left.side)
    at_peak = "" if network is None else f"; as one network at peak {facts.quantity(max(network, 0.0), 'pressure')}"
    return f"{words}{at_peak}"


def _path(question: Question) -> tuple[str, ...]:
    return ("parts", question.part.id, *question.what.split())
