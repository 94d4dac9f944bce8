"""The gauge reads what the plan predicts

Looks at: each reading written under `measured`, beside the pressure that the plan predicts at that connection and
    height, with the fixtures open that were open then, each at the flow it takes there.
Why: what the gauge says and the drawing does not is the first sign of a valve half shut, of lime, of a regulator that
    creeps, of a tap that runs somewhere. Found in the first week it costs an hour.
To mend: read again within the hour with everything shut, then with one fixture open; see `plancheck gauge` for what
    would explain the difference, and check it on site.
Cannot see: what the street gave at that hour; how true the gauge is; how far a fixture was opened.
Ask: the water supplier for the pressure of the day; the maker of the regulator for its fall-off.
"""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.rulekit import (
    NONE,
    PRACTICE,
    PSI_PA,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Quantity,
    Reading,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    on_site,
)

STANDING = Limit("standing", "a gauge off what is predicted with no water running", "pressure", "at most",
                 practice=(Value(3 * PSI_PA, PRACTICE, practice=True),))  # fmt: skip
RUNNING = Limit("running", "further off with water running, as a share of what it loses on the way", "count", "at most",
                practice=(Value(0.25, PRACTICE, practice=True),))  # fmt: skip
RULE = Rule("hazard", "layout", (STANDING, RUNNING))

_GRACE_PA = 0.05 * PSI_PA


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each reading of a pressure."""
    for reading in facts.plan.measured.values():
        at = facts.flow.connection(reading.at or "")
        place = facts.plan.parts[at.part].place if at is not None else None
        yield Subject(("measured", reading.id), f"reading {reading.id}", place, reading)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the gauge is inside the band round what is predicted."""
    reading: Reading = subject.thing
    at = facts.flow.connection(reading.at or "")
    if at is None:
        raise NotShown(("measured", reading.id, "at"), "where it was read")
    if not isinstance(reading.reads, Quantity):
        raise NotShown(("measured", reading.id, "reads"), "what the gauge read")
    if reading.reads.kind != "pressure":
        return on_site("a flow, not a pressure: set it beside what `plancheck flow` shows for the outlet")
    said_pa = reading.reads.si
    danger = _relief_pa(facts)
    if danger is not None and said_pa >= danger - _GRACE_PA:
        return _dangerous(reading, said_pa, danger, facts)
    if reading.open is None or isinstance(reading.open, str):
        if reading.open != NONE:
            raise NotShown(("measured", reading.id, "open"), "which fixtures were open, or `none`")
        opened: tuple[str, ...] = ()
    else:
        opened = reading.open
    found = facts.flow.predicted(at, opened)
    if found.missing is not None:
        raise NotShown(found.missing.path, found.missing.what)
    if found.why:
        raise NotShown(("measured", reading.id), f"an answer of the computation ({found.why})")
    band = limits.of(STANDING).number + limits.of(RUNNING).number * found.friction_pa
    off = said_pa - found.pa
    if abs(off) <= band + _GRACE_PA:
        return holds(
            "inside the band",
            Measured(abs(off), "pressure"),
            limits.of(STANDING),
            facts.flow.estimates(step.edge for step in found.route),
        )
    return _off(reading, said_pa, found.pa, band, opened, facts, limits)


def _relief_pa(facts: Facts) -> float | None:
    """The lowest setting of a heater's relief valve."""
    found = []
    for part in facts.plan.parts.values():
        relief = part.own.relief if isinstance(part.own, HeaterOwn) and part.work != "removed" else None
        if relief is not None and not isinstance(relief, str) and isinstance(relief.pressure, Quantity):
            found.append(relief.pressure.si)
    return min(found, default=None)


def _dangerous(reading: Reading, said_pa: float, relief_pa: float, facts: Facts) -> Outcome:
    said, opens = facts.quantity(said_pa, "pressure"), facts.quantity(relief_pa, "pressure")
    return broken(
        f"The gauge at {reading.at} read {said}: the relief valve of the heater opens at {opens}.",
        "hazard",
        measured=Measured(said_pa, "pressure"),
        found=said,
        needed=f"well below {opens}",
        mend="Shut the heater's fuel or power off, open a tap, and find out what raises the pressure: no room for "
        "heated water, or a regulator that does not hold.",
        caution="Never plug or replace a relief valve that drips before the cause is found.",
    )


def _off(
    reading: Reading,
    said_pa: float,
    expected_pa: float,
    band: float,
    opened: tuple[str, ...],
    facts: Facts,
    limits: Limits,
) -> Outcome:
    said, expected = facts.quantity(said_pa, "pressure"), facts.quantity(expected_pa, "pressure")
    low, high = facts.quantity(expected_pa - band, "pressure"), facts.quantity(expected_pa + band, "pressure")
    way = "lower" if said_pa < expected_pa else "higher"
    with_what = f" with {', '.join(opened)} open" if opened else " with everything shut"
    read_on = facts.plan.water.date
    when = f" The supply was read on {read_on}; read both within the hour." if read_on else ""
    name = facts.source.file
    call = f"plancheck gauge {name} --at {reading.at} --reads '{said}'" + (
        f" --open {','.join(opened)}" if opened else ""
    )
    return broken(
        f"{reading.at}{with_what}: the gauge read {said}, {way} than expected ({expected}, {low} to {high}).",
        "advice",
        measured=Measured(said_pa, "pressure"),
        limit=limits.of(STANDING),
        found=said,
        needed=f"{low} to {high}",
        mend=f"Read it with everything shut, close one port after the other and read again; what would explain it: {call}.",
        caution=f"This is no diagnosis: check on site.{when}",
    )
