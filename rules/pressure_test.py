"""The test: right pressure, long enough, right medium

Looks at: each recorded test (its medium, its pressure against the pressure the house works at, how long it was held, what it
    lost) and whether cold and hot, where there is new work, are covered by a record.
Why: the test is the one moment when a bad joint costs an hour and not a ceiling. Air stores energy that water does not:
    a joint that lets go under air throws its pieces, and CPVC bursts into splinters.
To mend: fill with water, let the air out, pump up to the working pressure at least, wait until plastic tube has stretched,
    pump up again and hold fifteen minutes; write start, end and temperature. Shut off the heater above its relief setting.
Cannot see: whether the gauge was right and the ends were looked at, who watched, changes made after the test.
Ask: where air is allowed on PEX at all it takes the sheets of every maker of tube and fittings; some cities want 100 psi,
    or half as much again as the working pressure.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_PRESSURE_PA,
    NONE,
    NOT_KNOWN,
    PEX,
    PSI_PA,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Quantity,
    Rule,
    Subject,
    Value,
    at_least,
    at_most,
    broken,
    estimates,
    holds,
    of_practice,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.model import PressureTest

_WATER = "water; air on pipe without plastic only"
_MAKERS = "water; air on PEX where all makers of tube and fittings allow it"
MEDIUM = Limit(
    "medium",
    "what a test is made with",
    "text",
    "",
    irc=(
        Value(_WATER, recalled("IRC", "2015", "P2503.7")),
        Value(_MAKERS, recalled("IRC", "2018", "P2503.7"), since=2018),
        Value(_MAKERS, printed("IRC", "2021", "P2503.7"), since=2021),
    ),
    ipc=(Value(_WATER, recalled("IPC", "2015", "312.5")), Value(_MAKERS, recalled("IPC", "2018", "312.5"), since=2018)),
    upc=(Value(_WATER, printed("UPC", "", "609.4")),),
)
_SOURCES = (printed("IRC", "", "P2503.7"), printed("IPC", "", "312.5"), printed("UPC", "", "609.4"))


def _all(id_: str, title: str, unit: str, value: float) -> Limit:
    irc, ipc, upc = ((Value(value, source),) for source in _SOURCES)
    return Limit(id_, title, unit, "at least", irc, ipc, upc, (Value(value, _SOURCES[0], practice=True),))


_STRETCHES = printed("a design handbook, as a trade page has it", "", "tests with air")
_MANUAL = printed("a tube maker's manual", "", "section 6")
TIME = _all("time", "time a test is held", "duration", 900.0)
AIR_LEAST = _all("air_least", "pressure of a test with air", "pressure", 50 * PSI_PA)
WORKING = _all("working", "pressure of a test with water against the working pressure", "times", 1.0)
WATER_LEAST = Limit("water_least", "pressure of a test with water, whatever the house works at", "pressure", "at least")
DROP = of_practice(
    "drop", "loss that a gauge does not tell", "pressure", "at most", 1 * PSI_PA, recalled("IRC", "2018", "P2503.9")
)
_TITLE = "loss in the first hour that plastic tube may take by stretching"
STRETCH = of_practice("stretch", _TITLE, "pressure", "at most", 8 * PSI_PA, _STRETCHES)
MOST_WATER = of_practice("most_water", "pressure of a test with water", "pressure", "at most", 150 * PSI_PA, _MANUAL)
_TITLE = "pressure of a test with air on plastic"
MOST_AIR = of_practice("most_air", _TITLE, "pressure", "at most", 120 * PSI_PA, _MANUAL)
RULE = Rule("hazard", "rough-in", (MEDIUM, TIME, AIR_LEAST, WORKING, WATER_LEAST, DROP, STRETCH, MOST_WATER, MOST_AIR))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Four questions for each record, one for each side with new work, and once what only a person sees."""
    from plancheck.tested import new_sides

    tests = facts.plan.tests
    for test in tests.values() if tests is not None and not isinstance(tests, str) else ():
        for key, name in (("medium", "medium"), ("start", "pressure"), ("held", "time"), ("end", "loss")):
            yield Subject(("tests", test.id, key), f"{name} of test {test.id}", None, (key, test))
    for side in new_sides(facts):
        yield Subject(("tests",), f"test of the {side} side", None, ("side", side))
    if tests and not isinstance(tests, str):
        yield Subject(("tests",), "the test itself", None, ("seen", None))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question on one record, or on one side of the house."""
    question, thing = subject.thing
    if question == "seen":
        return on_site("look at the gauge, at every end and joint under pressure, and who signed for it")
    if question == "side":
        return _covered(thing, facts)
    return _QUESTIONS[question](thing, facts, limits)


def _key(test: "PressureTest", key: str, what: str) -> NotShown:
    return NotShown(("tests", test.id, key), what)


def _medium_of(test: "PressureTest") -> str:
    if test.medium is None or test.medium == NOT_KNOWN:
        raise _key(test, "medium", "what the pipe was filled with (medium: water or air)")
    return test.medium


def _medium(test: "PressureTest", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.tested import NEVER_AIR, not_air, runs_under, stuff_of

    if _medium_of(test) != "air":
        return holds("water")
    stuff = stuff_of(runs_under(test, facts), facts)
    never = sorted(stuff.plastics & NEVER_AIR)
    if never:
        return not_air(test, never[0], "hazard", limits.maybe(MEDIUM), "It bursts into splinters under air.")
    if not stuff.plastics:
        if stuff.untold is not None:
            raise NotShown(("runs", stuff.untold.id, "tube"), "what the tested pipe is made of")
        return holds("air, on metal alone")
    limit, other = limits.of(MEDIUM), sorted(stuff.plastics - PEX)
    if limit.value != _MAKERS or other or test.air_allowed == NONE:
        why = "No maker's sheet is named that allows it." if limit.value == _MAKERS and not other else ""
        return not_air(test, (other or sorted(stuff.plastics))[0], "correction", limits.maybe(MEDIUM), why)
    if test.air_allowed is None or test.air_allowed == NOT_KNOWN:
        raise _key(test, "air_allowed", "the makers' sheets that allow air (air_allowed)")
    return holds(f"air, allowed by {test.air_allowed}", None, limit)


def _pressure(test: "PressureTest", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.tested import runs_under, too_high, too_low, working_of

    start, about = test.start, ""
    if not isinstance(start, Quantity):
        raise _key(test, "start", "the gauge at the start")
    air = _medium_of(test) == "air"
    floor = None if air else limits.maybe(WATER_LEAST)  # no code has one; some cities have
    if floor is not None and not at_least(start.si, floor.number, GRACE_PRESSURE_PA):
        return too_low(test, start.si, floor.number, floor, estimates(start), facts)
    limit = limits.of(AIR_LEAST if air else WORKING)
    least_pa = limit.number
    if not air:
        working = working_of(runs_under(test, facts), facts)
        least_pa, about = least_pa * working.pressure_pa, working.about
    estimate = ", ".join(filter(None, (estimates(start), about)))
    if not at_least(start.si, least_pa, GRACE_PRESSURE_PA):
        return too_low(test, start.si, least_pa, limit, estimate, facts)
    high = too_high(test, start.si, limits.of(MOST_AIR if air else MOST_WATER), facts)
    return high or holds("", Measured(start.si, "pressure"), limit, estimate)


def _shown(pressure_pa: float, facts: Facts) -> str:
    return facts.quantity(pressure_pa, "pressure")


def _time(test: "PressureTest", facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(test.held, Quantity):
        raise _key(test, "held", "how long it was held")
    limit = limits.of(TIME)
    measured = Measured(test.held.si, "duration")
    if at_least(test.held.si, limit.number, 0.0):
        return holds("", measured, limit, estimates(test.held))
    least = facts.quantity(limit.number, "duration") if limit.number < 120 else f"{limit.number / 60:g} min"
    at = f" at {_shown(test.start.si, facts)}" if isinstance(test.start, Quantity) else ""
    return broken(
        f"Held {test.held.text.removeprefix('about ')}{at}; {least} is the least.",
        "correction",
        measured=measured,
        limit=limit,
        needed=f"at least {least}",
        mend=f"Pump up again after the tube has stretched, hold {least}, write start, end and temperatures.",
        estimate=estimates(test.held),
    )


def _loss(test: "PressureTest", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.tested import runs_under, stuff_of

    for key, said in (("start", test.start), ("end", test.end)):
        if not isinstance(said, Quantity):
            raise _key(test, key, f"the gauge at the {key}")
    start, end, estimate = test.start, test.end, estimates(test.start, test.end)
    assert isinstance(start, Quantity)
    assert isinstance(end, Quantity)
    lost_pa, drop, stretch = start.si - end.si, limits.of(DROP), limits.of(STRETCH)
    if at_most(lost_pa, drop.number, GRACE_PRESSURE_PA):
        return holds("", Measured(lost_pa, "pressure"), drop, estimate)
    tight = at_most(lost_pa, stretch.number, GRACE_PRESSURE_PA)
    if tight and stuff_of(runs_under(test, facts), facts).plastics:
        says, severity, limit = "plastic tube may have stretched", "advice", stretch
        mend = "Pump up again to the same pressure and hold: stretched tube now stands still, a leak does not."
    else:
        says, severity, limit = "that is a leak until it is found", "correction", None
        mend = "Find it: soap the joints, shut one circuit after the other and watch the gauge; then test again."
    return broken(
        f"Test {test.id} fell from {_shown(start.si, facts)} to {_shown(end.si, facts)}; {says}.",
        severity,
        measured=Measured(lost_pa, "pressure"),
        limit=limit,
        found=f"a loss of {_shown(lost_pa, facts)}",
        needed=f"at most {_shown(drop.number, facts)}",
        mend=mend,
        estimate=estimate,
    )


def _covered(side: str, facts: Facts) -> Outcome:
    from plancheck.tested import covering

    tests = facts.plan.tests
    if not tests or tests == NOT_KNOWN:
        raise NotShown(("tests",), "the pressure test (tests)")
    by, untold = covering(tests.values() if not isinstance(tests, str) else (), side)
    if by is not None:
        return holds(f"covered by {by}")
    if untold is not None:
        raise _key(untold, "covers", "what the test covered (covers: [cold, hot])")
    return broken(
        f"No test of the {side} side is recorded, which has new work.",
        "correction",
        found="none",
        needed="a test of every side with new work, before it is covered",
        mend=f"Test the {side} side before anything is closed, and record it.",
    )


_QUESTIONS = {"medium": _medium, "start": _pressure, "held": _time, "end": _loss}
