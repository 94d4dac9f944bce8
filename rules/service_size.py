"""Is the service big enough: by table, and as the bottleneck

Looks at: the line that all water passes: whether any of it is under the smallest size; under the UPC whether its table
    carries the house's fixture units over this length at this pressure; and, where an outlet is short at peak, how much
    of the loss on its way the service, the meter and the regulator take.
Why: no pipe inside the house gives back what a thin old service has taken; people enlarge the wrong end.
To mend: renew the service a size larger before enlarging the house piping; ask for a larger meter.
Cannot see: lime and tubercles in old pipe, the curb stop, the tap at the main; the ICC's one-page table is not carried,
    its families are judged by the computed way to each outlet.
Ask: the water supplier for meter and tap; the inspector which sizing he accepts, table or computation.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    PRACTICE,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    MeterOwn,
    NotShown,
    Outcome,
    Quantity,
    RegulatorOwn,
    Rule,
    Run,
    Size,
    Subject,
    Value,
    at_most,
    broken,
    holds,
    outlet_rate,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.flow.capacity import Left

_PSI, _FT, _INCH = 6894.757293168, 0.3048, 0.0254
_TABLE = printed("UPC", "2015", "Table 610.4")
SMALLEST = Limit("smallest", "smallest nominal size of a service, inches", "count", "at least",
                 irc=(Value(0.75, recalled("IRC", "2018", "P2903.7")),),
                 upc=(Value(0.75, printed("UPC", "2015", "610.8")),),
                 practice=(Value(0.75, PRACTICE, practice=True),))  # fmt: skip
REGULATOR_SHARE = Limit("regulator_share", "share of a regulator's set that the table is entered with", "count",
                        "at most", upc=(Value(0.8, printed("UPC", "2021", "608")),))  # fmt: skip
CLIMB = Limit("climb", "pressure lost for each metre of height, in the table", "pressure", "at least",
              upc=(Value(0.5 * _PSI / _FT, _TABLE),))  # fmt: skip
UNITS = Limit("units", "fixture units by pressure, meter, pipe and length", "text", "at most",
              upc=(Value("the table", _TABLE),))  # fmt: skip
BOTTLENECK = Limit("bottleneck", "share of the loss on the way to a short outlet that the service takes", "count",
                   "at most", practice=(Value(0.5, PRACTICE, practice=True),))  # fmt: skip
RULE = Rule("correction", "layout", (SMALLEST, REGULATOR_SHARE, CLIMB, UNITS, BOTTLENECK))

_LENGTHS_FT = (40, 60, 80, 100, 150, 200)
# from psi: meter, pipe, fixture units at each length (UPC 610.4, read)
_RANGES = {
    30: ((0.75, 0.5, (6, 5, 4, 3, 2, 1)), (0.75, 0.75, (16, 16, 14, 12, 9, 6)), (0.75, 1.0, (29, 25, 23, 21, 17, 15)),
         (1.0, 1.0, (36, 31, 27, 25, 20, 17)), (1.0, 1.25, (54, 47, 42, 38, 32, 28))),
    46: ((0.75, 0.5, (7, 7, 6, 5, 4, 3)), (0.75, 0.75, (20, 20, 19, 17, 14, 11)), (0.75, 1.0, (39, 39, 36, 33, 28, 23)),
         (1.0, 1.0, (39, 39, 39, 36, 30, 25)), (1.0, 1.25, (78, 78, 76, 67, 52, 44))),
    60: ((0.75, 0.5, (7, 7, 7, 6, 5, 4)), (0.75, 0.75, (20, 20, 20, 20, 17, 13)), (0.75, 1.0, (39, 39, 39, 39, 35, 30)),
         (1.0, 1.0, (39, 39, 39, 39, 38, 32)), (1.0, 1.25, (78, 78, 78, 78, 74, 62))),
}  # fmt: skip
_MIN, _BY_TABLE, _SHARE = "smallest size", "table", "share of the loss"


def subjects(facts: Facts) -> Iterator[Subject]:
    """The service, asked three things; under the UPC alone the table."""
    if not any(fixture.sides for fixture in facts.flow.house.fixtures.values()):
        return
    path = facts.flow.service_path()
    for what in (_MIN, _BY_TABLE, _SHARE):
        if what != _BY_TABLE or facts.family == "upc":
            yield Subject(path, f"{what} of the service", None, what)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One of the three questions."""
    if subject.thing == _MIN:
        return _smallest(facts, limits)
    return _by_table(facts, limits) if subject.thing == _BY_TABLE else _share(facts, limits)


def _inches(run: Run, facts: Facts) -> float:
    tube = facts.plan.tubes.get(run.tube or "")
    if tube is None or not isinstance(tube.size, Size):
        raise NotShown(("tubes", run.tube or "", "size"), "the size of the service")
    return tube.size.rank


def _smallest(facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(SMALLEST)
    for run in facts.flow.common_runs():
        size = _inches(run, facts)
        if size < limit.number - 0.06:  # 20 mm tube counts as 3/4
            old = run.work == "existing"
            return broken(
                f"{run.id} is {facts.plan.tubes[run.tube or ''].size} and feeds the whole house; at least 3/4.",
                "advice" if old else "correction",
                measured=Measured(size, "count"),
                limit=limit,
                found=f"{facts.plan.tubes[run.tube or ''].size}",
                needed="at least nominal 3/4",
                mend="Renew it in 3/4 or larger.",
                at=("runs", run.id),
            )
    return holds("", None, limit)


def _by_table(facts: Facts, limits: Limits) -> Outcome:
    far = facts.flow.farthest()
    if far is None:
        return holds("no outlet")
    if far.missing_run:
        raise NotShown(("runs", far.missing_run, "length"), "how long the run is")
    if far.rise_m is None:
        raise NotShown(
            ("parts", far.side.partition("/")[0], "height"), "how high the highest outlet is above the meter"
        )
    psi = (_entered_pa(facts, limits) - limits.of(CLIMB).number * max(far.rise_m, 0.0)) / _PSI
    lower = max((low for low in _RANGES if psi >= low - (0 if low == 30 else 1) + 0.0), default=None)
    if lower is None:
        raise NotShown(("water", "static"), "a pressure that the table has: it begins at 30 psi")
    run = next(iter(facts.flow.common_runs()), None)
    load = facts.loads.get(run.id) if run is not None else None
    if run is None or load is None or load.units is None or load.by_units.missing:
        gap = load.by_units.missing[0] if load is not None and load.by_units.missing else None
        raise NotShown(gap.path if gap else ("parts",), gap.what if gap else "the fixtures of the house")
    column = next((place for place, feet in enumerate(_LENGTHS_FT) if far.length_m <= feet * _FT + 0.002), None)
    if column is None:
        raise NotShown(("runs", run.id, "length"), "a length that the table has: it ends at 200 ft")
    pipe = min(_inches(one, facts) for one in facts.flow.common_runs())
    meter = _meter(facts)
    rows = [row for row in _RANGES[lower] if row[0] <= meter + 0.01 and row[1] <= pipe + 0.01]
    most = max((row[2][column] for row in rows), default=0)
    limit = limits.of(UNITS)
    if load.units.total <= most + 0.01:
        return holds("", Measured(load.units.total, "count"), limit)
    return _over(load.units.total, most, lower, column, pipe, meter, run, facts, limit)


def _entered_pa(facts: Facts, limits: Limits) -> float:
    """The pressure the table is entered with: the street's, or the share of a regulator's set."""
    share = limits.of(REGULATOR_SHARE).number
    sets = [part.own.set for part in facts.plan.parts.values() if isinstance(part.own, RegulatorOwn)]
    static = facts.plan.water.static
    if sets:
        if not isinstance(sets[0], Quantity):
            name = next(part.id for part in facts.plan.parts.values() if isinstance(part.own, RegulatorOwn))
            raise NotShown(("parts", name, "set"), "the pressure the regulator is set to")
        return sets[0].si * share
    if not isinstance(static, Quantity):
        raise NotShown(("water", "static"), "the standing pressure")
    return static.si


def _meter(facts: Facts) -> float:
    for part in facts.plan.parts.values():
        if isinstance(part.own, MeterOwn) and part.work != "removed":
            if not isinstance(part.size, Size):
                raise NotShown(("parts", part.id, "size"), "the size of the meter")
            return part.size.rank
    return 1.0  # no meter stands in the way


def _over(
    units: float, most: int, lower: int, column: int, pipe: float, meter: float, run: Run, facts: Facts, limit: InForce
) -> Outcome:
    enough = next((row for row in _RANGES[lower] if row[2][column] >= units - 0.01 and row[1] > pipe), None)
    mend = "Size it by computation, or ask for a larger meter."
    if enough is not None:
        larger = " with a 1 in meter" if enough[0] > meter + 0.01 else ""
        mend = f"Renew it in {_name(enough[1])}{larger}: the table carries {enough[2][column]} there."
    short = facts.flow.short_at_peak(facts.loads)
    return broken(
        f"The service carries {units:g} fixture units; the table allows {most} for {_name(pipe)} over this length.",
        "correction" if short and run.work != "existing" else "advice",
        measured=Measured(units, "count"),
        limit=limit,
        found=f"{units:g} fixture units on {_name(pipe)}",
        needed=f"at most {most} at {_LENGTHS_FT[column]} ft and {lower} psi or more",
        mend=mend,
    )


def _name(inches: float) -> str:
    return {0.5: "1/2", 0.75: "3/4", 1.0: "1", 1.25: "1-1/4", 1.5: "1-1/2"}.get(inches, f"{inches:g}") + " in"


def _share(facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(BOTTLENECK)
    worst = _worst(facts)
    if worst is None:
        return holds("no outlet is short at peak", None, limit)
    left, name, least = worst
    share = facts.flow.service_share(left)
    if share < limit.number:
        return holds(f"it takes {share:.0%} of the loss", Measured(share, "count"), limit)
    loss = facts.quantity(facts.flow.service_loss_pa(left), "pressure")
    larger = facts.flow.larger_service(left)
    mend = "Renew the service a size larger before enlarging the house piping, or ask for a larger meter."
    if larger is not None:
        leaves = facts.quantity(max(larger.pa, 0.0), "pressure")
        mend = f"Renew the service in {larger.size} first: that leaves {leaves} there."
    return broken(
        f"Service, meter and regulator take {share:.0%} of the loss to {name} at peak ({loss}).",
        "advice",
        measured=Measured(round(share, 3), "count"),
        limit=limit,
        found=f"{share:.0%} of the loss; {facts.quantity(max(left.pa, 0.0), 'pressure')} left at {name}",
        needed=f"{facts.quantity(least, 'pressure')} there",
        mend=mend,
    )


def _worst(facts: Facts) -> tuple[Left, str, float] | None:
    """The outlet that is shortest at peak: what is left there, its name, what it needs."""
    found: tuple[float, Left, str, float] | None = None
    for part in facts.plan.parts.values():
        fixture, rate = facts.flow.house.fixtures.get(part.id), outlet_rate(part)
        if fixture is None or not fixture.sides or rate is None:
            continue
        least = facts.flow.least_pa(part.id)
        left = facts.flow.at_peak(fixture, rate, facts.loads, 0.8 if facts.family == "upc" else 1.0)
        if left.missing is not None:
            raise NotShown(left.missing.path, left.missing.what)
        if not left.why and not at_most(least, left.pa, 0.05 * _PSI) and (found is None or least - left.pa > found[0]):
            found = least - left.pa, left, facts.part_name(part.id), least
    return found[1:] if found is not None else None
