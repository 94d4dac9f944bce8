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

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    FOOT_M,
    PRACTICE,
    PSI_PA,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Size,
    Subject,
    TableCell,
    Value,
    broken,
    cell_of,
    enough_for,
    holds,
    most_units,
    printed,
    recalled,
    size_named,
)

if TYPE_CHECKING:
    from plancheck.flow.short import Short

_TABLE = printed("UPC", "2015", "Table 610.4")
SMALLEST = Limit("smallest", "smallest nominal size of a service, inches", "count", "at least",
                 irc=(Value(0.75, recalled("IRC", "2018", "P2903.7")),),
                 upc=(Value(0.75, printed("UPC", "2015", "610.8")),),
                 practice=(Value(0.75, PRACTICE, practice=True),))  # fmt: skip
REGULATOR_SHARE = Limit("regulator_share", "share of a regulator's set that the table is entered with", "count",
                        "at most", upc=(Value(0.8, printed("UPC", "2021", "608")),))  # fmt: skip
CLIMB = Limit("climb", "pressure lost for each metre of height, in the table", "pressure", "at least",
              upc=(Value(0.5 * PSI_PA / FOOT_M, _TABLE),))  # fmt: skip
UNITS = Limit("units", "fixture units by pressure, meter, pipe and length", "text", "at most",
              upc=(Value("the table", _TABLE),))  # fmt: skip
BOTTLENECK = Limit("bottleneck", "share of the loss on the way to a short outlet that the service takes", "count",
                   "at most", practice=(Value(0.5, PRACTICE, practice=True),))  # fmt: skip
RULE = Rule("correction", "layout", (SMALLEST, REGULATOR_SHARE, CLIMB, UNITS, BOTTLENECK))


class Entry(NamedTuple):
    """What the table is entered with: fixture units, its cell, the smallest pipe, the meter in nominal inches."""

    units: float
    cell: TableCell
    pipe: Size
    meter: float

    @property
    def most(self) -> int:
        """The fixture units it allows."""
        return most_units(self.cell, self.meter, self.pipe.rank)


_METRIC = 0.06  # of an inch: 20 mm tube counts as 3/4
_MIN, _BY_TABLE, _SHARE = "size of the service", "service by the table", "loss in the service"


def subjects(facts: Facts) -> Iterator[Subject]:
    """The service, asked three things; under the UPC alone the table."""
    if not any(fixture.sides for fixture in facts.flow.house.fixtures.values()):
        return
    path = facts.flow.service_path()
    for what in (_MIN, _BY_TABLE, _SHARE):
        if what != _BY_TABLE or facts.family == "upc":
            yield Subject(path, what, None, what)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One of the three questions."""
    if subject.thing == _MIN:
        return _smallest(facts, limits)
    return _by_table(facts, limits) if subject.thing == _BY_TABLE else _share(facts, limits)


def _size(run: Run, facts: Facts) -> Size:
    tube = facts.plan.tubes.get(run.tube or "")
    if tube is None or not isinstance(tube.size, Size):
        raise NotShown(("tubes", run.tube or "", "size"), "the size of the service")
    return tube.size


def _too_thin(facts: Facts, limit: InForce) -> Run | None:
    """The first run of the service that is under the smallest size, as far as sizes are said."""
    tubes = facts.plan.tubes
    for run in facts.flow.common_runs():
        size = getattr(tubes.get(run.tube or ""), "size", None)
        if isinstance(size, Size) and size.rank < limit.number - _METRIC:
            return run
    return None


def _smallest(facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(SMALLEST)
    least = size_named(limit.number)
    run = _too_thin(facts, limit)
    if run is None:
        for one in facts.flow.common_runs():
            _size(one, facts)
        return holds("", None, limit)
    size = _size(run, facts)
    return broken(
        f"{run.id} is {size.words} and feeds the whole house; at least {least}.",
        "advice" if run.work == "existing" else "correction",
        measured=Measured(size.rank, "count"),
        limit=limit,
        found=size.words,
        needed=f"at least nominal {least}",
        mend=f"Renew it in {least} or larger.",
        at=("runs", run.id),
    )


def _cause(facts: Facts, limits: Limits) -> Path | None:
    """Where it is told that the service is under the smallest size: what it cannot carry follows from that."""
    run = _too_thin(facts, limits.of(SMALLEST))
    return ("runs", run.id) if run is not None else None


def _by_table(facts: Facts, limits: Limits) -> Outcome:
    from plancheck.flow.service import entered_at_pa, meter_inches

    far = facts.flow.farthest()
    if far is None:
        return holds("no outlet")
    if far.missing is not None:
        raise NotShown(far.missing.path, far.missing.what)
    entered_pa = entered_at_pa(facts, limits.of(REGULATOR_SHARE).number) - limits.of(CLIMB).number * max(
        far.rise_m, 0.0
    )
    cell = cell_of(entered_pa, far.length_m)
    runs = facts.flow.common_runs()
    load = facts.loads.get(runs[0].id) if runs else None
    if load is None or load.units is None or load.by_units.missing:
        gap = load.by_units.missing[0] if load is not None and load.by_units.missing else None
        raise NotShown(gap.path if gap else ("parts",), gap.what if gap else "a run that the whole house hangs on")
    pipe = min((_size(run, facts) for run in runs), key=lambda size: size.rank)
    entry = Entry(load.units.total, cell, pipe, meter_inches(facts))
    if entry.units > entry.most + 0.01:
        over = _over(entry, runs[0], facts, limits.of(UNITS), facts.flow.estimates_to(far.side))
        return over._replace(cause=_cause(facts, limits))
    if not cell.inside:
        has = f"{facts.quantity(max(entered_pa, 0.0), 'pressure')} and {facts.length(far.length_m)}"
        raise NotShown(("water", "static"), f"what the table allows for {has}: it goes from 30 psi on, to 200 ft")
    return holds("", Measured(entry.units, "count"), limits.of(UNITS), facts.flow.estimates_to(far.side))


def _over(entry: Entry, run: Run, facts: Facts, limit: InForce, estimate: str) -> Outcome:
    enough = enough_for(entry.cell, entry.units, entry.pipe.rank) if entry.cell.inside else None
    mend = "Size it by computation, or ask for a larger meter."
    if enough is not None:
        meter = "with a 1 in meter" if enough.meter > entry.meter + 0.01 else ""
        renew = f"Renew it in {size_named(enough.pipe)}" if enough.pipe > entry.pipe.rank + 0.06 else "Keep its size"
        mend = f"{f'{renew} {meter}'.strip()}: the table carries {enough.units[entry.cell.column]} there."
    short = facts.flow.shorts(facts.loads)
    computed = not short.outlets and short.missing is None and not short.why
    low, high = (facts.quantity(psi * PSI_PA, "pressure") if psi else "" for psi in entry.cell.range_psi)
    name = entry.pipe.words
    return broken(
        f"The service carries {entry.units:g} fixture units; the table allows {entry.most} for {name} over this length.",
        "advice" if computed or run.work == "existing" else "correction",
        measured=Measured(entry.units, "count"),
        limit=limit,
        found=f"{entry.units:g} fixture units on {name}",
        needed=f"at most {entry.most} over {facts.length(entry.cell.length_m)} at "
        + (f"{low} to {high}" if high else f"more than {low}"),
        mend=mend,
        caution="By computation every outlet has enough at peak, which the code takes too." if computed else "",
        estimate=estimate,
    )


def _share(facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(BOTTLENECK)
    short = facts.flow.shorts(facts.loads)
    shares = [(facts.flow.service_share(one.left), one) for one in short.outlets]
    worst = max((found for found in shares if found[0] >= limit.number), key=lambda one: one[1].by_pa, default=None)
    if worst is not None:
        return _bottleneck(worst[0], worst[1], facts, limit)._replace(cause=_cause(facts, limits))
    if short.missing is not None:
        raise NotShown(short.missing.path, short.missing.what)
    if short.why:
        raise NotShown(("parts",), f"an answer of the computation ({short.why})")
    if not shares:
        return holds("no outlet is short at peak", None, limit, short.estimate)
    share = max(share for share, _ in shares)
    return holds(f"it takes {share:.0%} of the loss", Measured(share, "count"), limit)


def _larger(short: Short, facts: Facts) -> str:
    """What the next size of the thinnest part of the service would leave, where that is enough."""
    from plancheck.standing import ask_for_more

    larger = facts.flow.larger_service(short.left)
    if larger is None:
        return f"Renew the service a size larger before enlarging the house piping, or {ask_for_more(facts)}."
    start = facts.flow.service_path()[-1]
    what = "the service" if start in larger.runs else " and ".join(larger.runs)
    leaves = f"Renew {what} in {larger.size} in first: that leaves"
    if larger.pa >= short.least_pa:
        return f"{leaves} {facts.quantity(larger.pa, 'pressure')} there."
    left = facts.quantity(larger.pa, "pressure") if larger.pa > 0.0 else "no pressure"
    return f"{leaves} {left} there, still short: {ask_for_more(facts)}, and look at each part on the way."


def _bottleneck(share: float, short: Short, facts: Facts, limit: InForce) -> Outcome:
    from plancheck.flow.service import taken_by

    name, least = facts.part_name(short.part), facts.quantity(short.least_pa, "pressure")
    loss = facts.quantity(facts.flow.service_loss_pa(short.left), "pressure")
    mend = _larger(short, facts)
    return broken(
        f"{taken_by(facts)} {share:.0%} of the loss to {name} at peak ({loss}).",
        "advice",
        measured=Measured(round(share, 3), "count"),
        limit=limit,
        found=f"{share:.0%} of the loss; {facts.quantity(max(short.left.pa, 0.0), 'pressure')} left at {name}",
        needed=f"{least} there",
        mend=mend,
        estimate=facts.flow.estimates(short.left.edges, short.left.side),
    )
