"""What a pressure test covers: its runs, what they are made of, the pressure they work at. Pascal."""

from collections.abc import Iterable

from plancheck.answers import GRACE_PRESSURE_PA, broken
from plancheck.facts import Facts
from plancheck.kinds import PLASTIC
from plancheck.limits import InForce, NotShown
from plancheck.measures import Quantity
from plancheck.model import NONE, NOT_KNOWN, HeaterOwn, PressureTest, Relief, Run
from plancheck.outcomes import Measured, Outcome
from plancheck.record import NamedTuple

SIDES = ("cold", "hot")
NEVER_AIR = frozenset(("CPVC", "PVC"))
_SIDE = {"cold": "cold", "hot": "hot", "hot return": "hot"}


class Stuff(NamedTuple):
    """What the runs under test are made of: the plastics, and the first run whose material nobody says."""

    plastics: frozenset[str]
    untold: Run | None


class Working(NamedTuple):
    """The highest standing pressure of what is tested, and the estimate it rests on."""

    pressure_pa: float
    about: str


def side_of(run: Run, facts: Facts) -> str | None:
    """The side a run belongs to, cold or hot; None for other water, removed and loose runs."""
    if run.work == "removed" or run.from_ is None:
        return None
    return _SIDE.get(facts.carried(run.id).service or "")


def new_sides(facts: Facts) -> tuple[str, ...]:
    """The sides with new runs."""
    found = {side_of(run, facts) for run in facts.plan.runs.values() if run.work != "existing"}
    return tuple(side for side in SIDES if side in found)


def covers(test: PressureTest) -> frozenset[str] | None:
    """The sides a record covers; None where it does not say."""
    said = test.covers
    if said is None or said == NOT_KNOWN:
        return None
    words = () if said == NONE else (said,) if isinstance(said, str) else said
    return frozenset(_SIDE.get(word, word) for word in words)


def covering(tests: Iterable[PressureTest], side: str) -> tuple[str | None, PressureTest | None]:
    """The id of the first record that covers a side; where there is none, the first that does not say what it covers."""
    untold = None
    for test in tests:
        sides = covers(test)
        if sides is None:
            untold = untold or test
        elif side in sides:
            return test.id, None
    return None, untold


def runs_under(test: PressureTest, facts: Facts) -> list[Run]:
    """The runs of the sides a record covers, existing ones too. Raises NotShown where it does not say which."""
    sides = covers(test)
    if sides is None:
        raise NotShown(("tests", test.id, "covers"), "what the test covered (covers: [cold, hot])")
    return [run for run in facts.plan.runs.values() if side_of(run, facts) in sides]


def stuff_of(runs: Iterable[Run], facts: Facts) -> Stuff:
    """What the runs are made of."""
    plastics, untold = set(), None
    for run in runs:
        tube = facts.plan.tubes.get(run.tube) if run.tube is not None else None
        material = tube.material if tube is not None else None
        if material is None or material == NOT_KNOWN:
            untold = untold or run
        elif material in PLASTIC:
            plastics.add(material)
    return Stuff(frozenset(plastics), untold)


def working_of(runs: list[Run], facts: Facts) -> Working:
    """The highest standing pressure of the new runs, of all where none is new. Raises NotShown."""
    new = [run for run in runs if run.work != "existing"] or runs
    highest: Working | None = None
    for run in new:
        zone = facts.standing.at(facts.network.number.get(str(run.from_), -1))
        if zone is None:
            continue
        if zone.pressure_pa is None:
            raise NotShown(zone.missing or ("water", "static"), "the standing pressure")
        if highest is None or zone.pressure_pa > highest.pressure_pa:
            highest = Working(zone.pressure_pa, zone.about)
    if highest is None:
        raise NotShown(("water", "static"), "the standing pressure")
    return highest


def _relief_below(test: PressureTest, start_pa: float, facts: Facts) -> str | None:
    """A new heater left in the test whose relief valve opens below the test pressure, or None."""
    shut = test.isolated if isinstance(test.isolated, tuple) else ()
    if test.isolated is None or test.isolated == NOT_KNOWN:
        return None
    names = {name.partition("/")[0] for name in shut}
    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or part.work == "removed" or part.id in names:
            continue
        if (
            isinstance(own.relief, Relief)
            and isinstance(own.relief.pressure, Quantity)
            and start_pa > own.relief.pressure.si
        ):
            return part.id
    return None


def not_air(test: PressureTest, material: str, severity: str, limit: InForce | None, why: str) -> Outcome:
    """The finding on a test made with air on a material that does not take it."""
    return broken(
        f"Test {test.id} was made with air on {material}.",
        severity,
        limit=limit,
        found=f"air on {material}",
        needed="water",
        why=why,
        mend="Let the air out slowly, fill with water, vent it, and test again.",
        ask="Some authorities take air on PEX with the sheets of all makers.",
        caution="Keep clear of the pipe until all the air is out, and open no joint before.",
    )


def too_low(test: PressureTest, start_pa: float, least_pa: float, limit: InForce, about: str, facts: Facts) -> Outcome:
    """The finding on a test below what the house works at, or below what air must have."""
    from plancheck.measures.steps import stepped_up

    reasons = {"air_least": "with air", "working": "what the house works at"}
    what = reasons.get(limit.limit.id, "whatever the house works at")
    start, least = _shown(start_pa, facts), _shown(least_pa, facts)
    return broken(
        f"Test {test.id} was made at {start}; {least} is the least, {what}.",
        "correction",
        measured=Measured(start_pa, "pressure"),
        limit=limit,
        needed=f"at least {least}",
        mend=f"Test again at {_shown(stepped_up(least_pa, 'pressure', facts.units), facts)} or more.",
        estimate=about,
    )


def too_high(test: PressureTest, start_pa: float, most: InForce, facts: Facts) -> Outcome | None:
    """The advice on a test above what makers of plastic tube allow, or above a relief valve that was left in it."""
    measured = Measured(start_pa, "pressure")
    if start_pa > most.number + GRACE_PRESSURE_PA and stuff_of(runs_under(test, facts), facts).plastics:
        start, allowed = _shown(start_pa, facts), _shown(most.number, facts)
        return broken(
            f"Test {test.id} was made at {start}; a tube maker allows {allowed}.",
            "advice",
            measured=measured,
            limit=most,
            mend=f"Stay at {allowed} or below, unless the makers' sheets say more.",
        )
    heater = _relief_below(test, start_pa, facts)
    if heater is None:
        return None
    return broken(
        f"{facts.part_name(heater)} was left in a test at {_shown(start_pa, facts)}, above its relief setting.",
        "advice",
        measured=measured,
        found="the heater is not shut off",
        needed="the heater shut off from a test above its relief setting",
        mend="Shut the heater off and go round it, or test below its relief setting.",
    )


def _shown(pressure_pa: float, facts: Facts) -> str:
    return facts.quantity(pressure_pa, "pressure")
