"""Hot and cold meet nowhere but at heater, mixing valve and fixture

Looks at: the pieces by which water gets from the cold side to the hot one without passing a heater, a mixing valve or a
    fixture: a run, a tee, a manifold port, a valve. A closed valve between the two counts as joined. Returns of hot water
    through a pump, a check or a listed bypass are no crossovers here. Hand sprays that may have a stop of their own.
Why: where the two meet, the stronger side pushes into the other: cold comes from a hot tap and hot from a cold one, a
    shower wanders, the heater seems too small, and nobody finds it, for nothing leaks.
To mend: take the joining piece out and cap both ends; a valve in it, closed, does not part the two for long.
Cannot see: a worn cartridge in a faucet or shower valve, which joins the two as well; a hand spray shut at its head while
    its mixer stands open.
Ask: the inspector whether a jumper for the test may stay until the heater is set.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_TEMPERATURE_C,
    NONE,
    NOT_KNOWN,
    PRACTICE,
    TUBS_AND_SHOWERS,
    Facts,
    FixtureOwn,
    HeaterOwn,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Path,
    Quantity,
    Rule,
    Subject,
    Value,
    ValveOwn,
    broken,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

_TEXT = "no flow between hot and cold where they are joined"
APART = Limit(
    "apart",
    "where hot and cold pipe may be joined",
    "text",
    "",
    irc=(Value(_TEXT, recalled("IRC", "", "P2903")),),
    ipc=(Value(_TEXT, printed("IPC", "", "604, interconnection; the section's number from memory")),),
    upc=(Value(_TEXT, PRACTICE),),  # no sentence of it is known; what it does is the same
    practice=(Value(_TEXT, PRACTICE, practice=True),),
)
SCALD = Limit(
    "scald",
    "hot water that can come into a cold line",
    "temperature",
    "at most",
    practice=(Value((120 - 32) / 1.8, printed("IRC, IPC and UPC", "", "P2708.4, 412.3, 408.3")),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(APART, SCALD))


class Jumper(NamedTuple):
    """The runs that fill the hot pipe while the heater is not joined."""

    runs: tuple[str, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each joining piece, or the house once where there is none; each hand spray."""
    plan = facts.plan
    heaters = [part for part in plan.parts.values() if isinstance(part.own, HeaterOwn) and part.work != "removed"]
    if heaters and facts.network.source is not None:
        from plancheck.jumper import jumper_runs

        jumper = jumper_runs(facts)
        for name in facts.network.crossovers:
            path: Path = ("runs" if name in plan.runs else "parts", name)
            yield Subject(path, f"{name} between hot and cold", _place(facts, name), name)
        if jumper:
            heater = heaters[0]
            yield Subject(("parts", heater.id), "jumper between the ends at the heater", heater.place, Jumper(jumper))
        elif not facts.network.crossovers:
            yield Subject(("parts",), "hot and cold in the house", None, None)
    for part in plan.parts.values():
        if part.work == "removed":
            continue
        name = facts.part_name(part.id)
        if isinstance(part.own, ValveOwn) and part.own.style == "thermal bypass":
            yield Subject(("parts", part.id), f"bypass {name}", part.place, part)
        if part.is_ == "rest of house" and {f"{part.id}/cold", f"{part.id}/hot"} <= _fed(facts):
            yield Subject(("parts", part.id, "fixtures"), f"hot and cold in {name}", part.place, part)
        if isinstance(part.own, FixtureOwn) and isinstance(part.own.spray, Quantity):
            yield Subject(("parts", part.id, "spray"), f"hand spray of {name}", part.place, part)


def _fed(facts: Facts) -> set[str]:
    return {side for side, tap in facts.network.outlets.items() if tap in facts.traced.services}


def _place(facts: Facts, name: str) -> str | None:
    return facts.run_place(name) if name in facts.plan.runs else facts.plan.parts[name].place


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a piece joins hot and cold."""
    thing = subject.thing
    if thing is None:
        return holds("joined in heaters, mixing valves and fixtures only")
    if isinstance(thing, Part) and isinstance(thing.own, ValveOwn):
        return _bypass(thing, thing.own, limits)
    if isinstance(thing, Part) and thing.is_ == "rest of house":
        raise NotShown(subject.path, "where hot and cold meet in it: old pipe that nobody drew")
    if isinstance(thing, Part):
        return on_site(
            "where the spray has a stop of its own, see that its mixer has checks: else hot and cold pass there"
        )
    if isinstance(thing, Jumper):
        return _test_jumper(thing.runs, facts, limits)
    return _joined(thing, facts, limits)


def _bypass(part: Part, own: ValveOwn, limits: Limits) -> Outcome:
    if own.check is True or own.standard not in (None, NONE, NOT_KNOWN):
        return holds("a listed bypass, or one with a check: hot goes back one way only")
    if own.check is not False:
        raise NotShown(("parts", part.id, "check"), "whether the bypass has a check")
    if not is_new(part):
        return on_site("existing bypass without a check: see that cold does not come back through it")
    return broken(
        f"Bypass {part.id} has no check: cold can go back through it into the hot line.",
        "correction",
        limit=limits.of(APART),
        found="no check",
        needed="a check, or a listed bypass",
        mend=f"Fit a listed bypass with a check in place of {part.id}.",
    )


def _joined(name: str, facts: Facts, limits: Limits) -> Outcome:
    severity, note = _severity(facts, limits)
    if severity != "hazard" and not _is_new(name, facts):
        return on_site(f"existing {name} joins hot and cold: see that nothing passes there")
    shut = _shut(name, facts)
    closed = f" {shut} is closed, but a valve leaks in time, and people turn it." if shut else ""
    hot, cold = _ends(name, facts)
    between = f" {hot} to {cold}" if hot and cold else " hot to cold"
    return broken(
        f"{name} ties{between}.{closed}",
        severity,
        limit=limits.of(SCALD) if severity == "hazard" else limits.of(APART),
        found="hot and cold joined",
        needed="joined in heater, mixing valve and fixture only",
        mend=f"Take {name} out and cap both ends{f', {hot} and {cold}' if hot and cold else ''}.",
        caution=note,
    )


def _is_new(name: str, facts: Facts) -> bool:
    run = facts.plan.runs.get(name)
    return is_new(run) if run is not None else is_new(facts.plan.parts[name])


def _ends(name: str, facts: Facts) -> tuple[str, str]:
    """The hot and the cold connection that a run joins, as far as the trace tells them."""
    run = facts.plan.runs.get(name)
    if run is None or run.from_ is None or run.to is None:
        return "", ""
    services, number = facts.traced.services, facts.network.number
    a, b = str(run.from_), str(run.to)
    return (b, a) if services.get(number[b]) == "hot" or services.get(number[a]) == "cold" else (a, b)


def _shut(name: str, facts: Facts) -> str:
    """A valve at one of its ends that is normally closed, by name."""
    graph, run = facts.network, facts.plan.runs.get(name)
    parts = [str(ref) for ref in (run.from_, run.to) if ref is not None] if run is not None else [name]
    for valve, inside in graph.valves.items():
        if inside in graph.closed and any(one == valve or one.partition("/")[0] == valve for one in parts):
            return valve
    return ""


def _severity(facts: Facts, limits: Limits) -> tuple[str, str]:
    """A hazard where water hotter than the limit can get into the cold side of a shower or tub."""
    parts = facts.plan.parts.values()
    if not any(part.is_ in TUBS_AND_SHOWERS and part.work != "removed" for part in parts):
        return "correction", ""
    unsaid = False
    for part in parts:
        said = part.own.set if isinstance(part.own, HeaterOwn) and part.work != "removed" else None
        if isinstance(said, Quantity) and said.si > limits.of(SCALD).number + GRACE_TEMPERATURE_C:
            rests = f" That rests on an estimate ({said.text})." if said.about else ""
            return "hazard", f"Hot of {said.text} can come into the cold side of a shower or tub.{rests}"
        unsaid = unsaid or (isinstance(part.own, HeaterOwn) and not isinstance(said, Quantity))
    return "correction", "How hot the water is set is not said: over 120 degF this can scald." if unsaid else ""


def _test_jumper(runs: tuple[str, ...], facts: Facts, limits: Limits) -> Outcome:
    way = " and ".join(runs)
    return broken(
        f"Hot pipe is filled from the cold side, by way of {way}, while no heater is joined.",
        "correction" if facts.stage == "finished" else "advice",
        limit=limits.of(APART),
        found="hot pipe joined to cold",
        needed="joined in heater, mixing valve and fixture only",
        mend="Take the test jumper out, and join the heater, before any water is heated.",
    )
