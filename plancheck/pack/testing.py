"""The pressure-test sheet: what to pump up to, for how long and with what, by code family; the record to fill in."""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.facts import Facts
from plancheck.flow.testdrop import AIR_PA, STRETCH_PA, STRETCH_SOURCE, fall_of
from plancheck.limits import FAMILIES, InForce, Limits, NotShown
from plancheck.measures import Quantity
from plancheck.measures.units import PSI_PA
from plancheck.model import HeaterOwn, PressureTest, Relief, Run
from plancheck.pack.blocks import BLANK, Block, Boxes, Grid, Heading, Items, Material, Pairs, Sheet, Text, Tick, said
from plancheck.pack.inspection import said_of
from plancheck.report.data import Finding
from plancheck.tested import new_sides, side_of, stuff_of, working_of

_HOUR_S = 3600.0
_STARTS_PSI = tuple(psi * PSI_PA for psi in (50.0, 80.0, 100.0))
_STARTS_KPA = (350e3, 550e3, 700e3)
_STEPS_C = (5.0, 10.0, 15.0)
_STEPS_F = tuple(step / 1.8 for step in (10.0, 20.0, 30.0))


def testing(material: Material) -> Sheet:
    """The sheet for the pressure test."""
    facts = material.facts
    blocks: tuple[Block, ...] = (
        Text(
            "Compressed air stores energy and throws parts: water is the test for plastic. Air only where the code and "
            "every maker of tube and fittings allow it, with everybody clear of the pipe."
        ),
        Heading("What to test at"),
        *_sides(material),
        _by_family(material),
        Heading("Before pumping up"),
        Boxes(tuple(_before(facts))),
        Heading("If it falls"),
        *_falls(facts),
        Heading("Record"),
        *_records(material),
    )
    return Sheet("test", "Pressure test", "pressures and times worked out for this plan, and the record", blocks)


def _sides(material: Material) -> Iterable[Block]:
    """For each side with new work the pressure it works at, and what it is made of."""
    facts, rows = material.facts, []
    for side in new_sides(facts):
        runs = [run for run in facts.plan.runs.values() if side_of(run, facts) == side]
        stuff = ", ".join(sorted(stuff_of(runs, facts).plastics)) or "no plastic"
        rows.append((side, *_pressures(material, runs), stuff))
    if rows:
        columns = ("Side", "Works at (standing, highest)", "Water: test at least at", "Plastic in it")
        yield Grid("Sides with new work", columns, tuple(rows))
        yield from _ahead(facts)
    else:
        yield Text("The plan has no new work on the cold or the hot side.")


def _ahead(facts: Facts) -> Iterable[Block]:
    """New parts that stand under more than the new pipe does, as those before a regulator: the figures above leave them out."""
    try:
        working_pa = max(working_of([run for run in facts.plan.runs.values() if side_of(run, facts) == side], facts).pressure_pa for side in new_sides(facts))
    except NotShown:
        return
    found: dict[str, float] = {}
    for name, vertex in facts.network.number.items():
        part = facts.plan.parts.get(name.partition("/")[0])
        zone = facts.standing.at(vertex)
        if part is None or part.is_ == "source" or part.work in ("existing", "removed") or zone is None or zone.pressure_pa is None:
            continue
        if zone.pressure_pa > 1.02 * working_pa:
            found[facts.part_name(part.id)] = max(zone.pressure_pa, found.get(facts.part_name(part.id), 0.0))
    if found:
        names = ", ".join([*found][:6]) + (" and more" if len(found) > 6 else "")
        highest = facts.quantity(max(found.values()), "pressure")
        yield Text(
            f"Before the regulator more stands: {highest} at {names}. The figures above do not test that piece; test it by itself, at "
            f"{highest} at least, or at what the authority asks for."
        )


def _pressures(material: Material, runs: list[Run]) -> tuple[str, str]:
    """The pressure the runs work at, and the least pressure of a test with water."""
    facts = material.facts
    try:
        working = working_of(runs, facts)
    except NotShown as gap:
        return f"not shown: the plan does not say {gap.what}", BLANK
    times, floor = (material.in_force("pressure_test", name) for name in ("working", "water_least"))
    least_pa = max(working.pressure_pa * (times.number if times is not None else 1.0), floor.number if floor is not None else 0.0)
    about = f" (rests on {working.about})" if working.about else ""
    return f"{facts.quantity(working.pressure_pa, 'pressure')}{about}", facts.quantity(least_pa, "pressure")


def _by_family(material: Material) -> Grid:
    """What each code family asks of a test; the job's own with its amendments."""
    facts, rows = material.facts, []
    for family in FAMILIES:
        here = family == facts.family
        cells = [_words(material, family, name, here) for name in ("medium", "working", "air_least", "time")]
        rows.append((f"{family.upper()}{', this job' if here else ''}", *cells))
    marked = {FAMILIES.index(facts.family): "in force"} if facts.family is not None else {}
    columns = ("Code", "With", "Water: against the pressure it works at", "Air: at least", "Held at least")
    notes = _notes(material)
    return Grid("By code family", columns, tuple(rows), marked=marked, notes=notes)


def _words(material: Material, family: str, name: str, here: bool) -> str:
    found = material.in_force("pressure_test", name) if here else _of_family(material, family, name)
    if found is None:
        return "-"
    value, source = found.value, f"{found.source}"
    if isinstance(value, str):
        return f"{value}; {source}"
    shown = {
        "time": f"{value / 60:g} min",
        "working": "that pressure" if value == 1 else f"{value:g} times that",
        "air_least": material.facts.quantity(value, "pressure"),
    }[name]
    return f"{shown}; {source}"


def _of_family(material: Material, family: str, name: str) -> InForce | None:
    for rule in material.rules:
        if rule.id == "pressure_test":
            limit = next((one for one in rule.rule.limits if one.id == name), None)
            return Limits(family, material.facts.edition).maybe(limit) if limit is not None else None
    return None


def _notes(material: Material) -> tuple[str, ...]:
    found = []
    for name, what in (("water_least", "Water at least"), ("most_water", "Water at most"), ("most_air", "Air on plastic at most")):
        limit = material.in_force("pressure_test", name)
        if limit is not None:
            found.append(f"{what} {material.facts.quantity(limit.number, 'pressure')}: {limit.source}.")
    return tuple(found)


def _before(facts: Facts) -> Iterable[Tick]:
    yield Tick("Every end capped or its stop shut; test ports and spare ports closed and plugged")
    yield Tick("Air let out at the highest outlets, cold and hot")
    for part in facts.plan.parts.values():
        if isinstance(part.own, HeaterOwn) and part.work != "removed":
            relief = part.own.relief
            at = relief.pressure if isinstance(relief, Relief) else None
            words = f" (its relief valve opens at {at.text})" if isinstance(at, Quantity) else ""
            yield Tick(f"{facts.part_name(part.id)} shut off from the test{words}; its fuel or power off")
        if part.is_ in ("expansion tank", "softener", "filter", "backflow preventer", "regulator") and part.work != "removed":
            yield Tick(f"{facts.part_name(part.id)} ({part.is_}) shut off, or rated for the test pressure by its maker")
    yield Tick("Gauge of no more than about twice the test pressure full scale (common practice)")
    yield Tick("Pumped up, left until plastic tube has stretched, pumped up again; then the clock starts")


def _falls(facts: Facts) -> Iterable[Block]:
    """What the temperature of the air and the stretch of the tube account for."""
    fahrenheit = facts.units.temperature == "degF"
    steps = _STEPS_F if fahrenheit else _STEPS_C
    rows = []
    for start_pa in _STARTS_PSI if facts.units.pressure == "psi" else _STARTS_KPA:
        falls = [fall_of(start_pa, start_pa, _HOUR_S, "air", 20.0, 20.0 - step).by_temperature_pa or 0.0 for step in steps]
        rows.append((facts.quantity(start_pa, "pressure"), *(facts.quantity(fall, "pressure") for fall in falls)))
    degrees = tuple(f"{step * 1.8:.0f} degF cooler" if fahrenheit else f"{step:.0f} degC cooler" for step in steps)
    yield Grid("Fall of an air test by cooling alone", ("Test at", *degrees), tuple(rows), frozenset((1, 2, 3)))
    stretch = facts.quantity(STRETCH_PA, "pressure")
    atmosphere = facts.quantity(AIR_PA, "pressure")
    yield Items(
        (
            f"Plastic tube may lose up to {stretch} in the first hour by stretching ({STRETCH_SOURCE}): pump up again.",
            "With water a change of temperature moves the gauge either way: test again at one temperature.",
            f"Air follows its absolute temperature, from about 68 degF (20 degC) and {atmosphere} of air outside.",
            "What is left over is a leak until it is found: soap the joints, shut one circuit after the other.",
        )
    )


def _records(material: Material) -> Iterable[Block]:
    """The tests the plan records, each with what the check finds of it; then one to fill in."""
    tests = material.facts.plan.tests
    for test in tests.values() if isinstance(tests, dict) else ():
        found = [one for one in material.report.findings if _is_of(one, test.id)]
        checked = (*(("Finding", f"{one.number}. {one.severity}: {one.says}") for one in found),)
        yield Pairs((*_record(test), *checked), f"As the plan records test {test.id}: a claim; whether it was so nobody checked")
    yield Pairs(
        tuple((name, BLANK) for name in ("Side", "With", "Start: pressure, time, temperature", "End: pressure, time, temperature",
                                         "Gauge: make, range, last checked", "Tested by", "Seen by")),
        "To fill in",
    )  # fmt: skip


def _is_of(finding: Finding, test: str) -> bool:
    """Whether a finding speaks of a recorded test."""
    return finding.path.strip("/").split("/")[:2] == ["tests", test]


def _record(test: PressureTest) -> tuple[tuple[str, str], ...]:
    return (
        ("Covers", said_of(test.covers)),
        ("With", said(test.medium)),
        ("Start", said(test.start)),
        ("End", said(test.end)),
        ("Held", said(test.held)),
        ("Shut off", said_of(test.isolated)),
        ("By, on", ", ".join(filter(None, (said(test.by), said(test.date))))),
    )
