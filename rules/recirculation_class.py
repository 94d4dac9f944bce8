"""Tube on a circulating hot loop is made for it

Looks at: each stock of PEX that lies on a loop with a return pipe of its own, out and back: the first of the four digits behind
    PEX on its print, against how long the pump runs a day and how hot the water is. Branches off the loop stand still and are
    not asked; a return through the cold line is another rule's.
Why: hot water with chlorine in it, moving all day, eats the tube from inside. The first digit says for how much of the time
    it was tested so; tube of a lower class goes brittle in ten years instead of fifty.
To mend: tube that prints a 5 first on the whole loop, or a pump that runs on demand.
Cannot see: how much chlorine is in the water, how long the pump really runs, how fast the water is.
Ask: the tube maker, where the water is chloraminated or very soft.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_TEMPERATURE_C,
    NOT_KNOWN,
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
    Subject,
    Tube,
    Value,
    broken,
    estimates,
    holds,
    on_site,
    printed,
    tube_of,
)

_TABLE = printed("ASTM F876", "2020b", "designation table")


def _hours(id_: str, title: str, hours: float) -> Limit:
    """Hours a day that are a share of the time at 140 degF: the standard's, so of every family."""
    value = (Value(hours, _TABLE),)
    return Limit(id_, title, "count", "at most", value, value, value, (Value(hours, _TABLE, practice=True),))


DUTY_1 = _hours("duty_1", "hours a day of circulation, first digit 1 (25 percent)", 6)
DUTY_3 = _hours("duty_3", "hours a day of circulation, first digit 3 (50 percent)", 12)
DUTY_5 = _hours("duty_5", "hours a day of circulation, first digit 5 (all the time)", 24)
NONE_0 = _hours("duty_0", "hours a day of circulation, first digit 0 (not rated hot)", 0)
_NOTE = printed("a trade association's note", "2018", "circulation")
WARM = Limit(
    "warm",
    "temperature of a circulating loop in PEX",
    "temperature",
    "at most",
    irc=(Value(60.0, _NOTE),),
    ipc=(Value(60.0, _NOTE),),
    upc=(Value(60.0, _NOTE),),
    practice=(Value(60.0, _NOTE, practice=True),),
)
RULE = Rule("correction", "layout", (NONE_0, DUTY_1, DUTY_3, DUTY_5, WARM))

_PEX = ("PEX", "PEX-A", "PEX-B", "PEX-C")
_ON_DEMAND = ("demand", "sensor")


class Looped(NamedTuple):
    """A stock on the loop, the runs of it there, and the pump, None where water goes round by itself."""

    tube: Tube
    runs: tuple[Run, ...]
    pump: str | None


class Duty(NamedTuple):
    """How long the pump runs: hours a day, None where not shown (then key tells what is missing); in words."""

    hours: float | None
    on_demand: bool
    words: str
    key: Path = ()


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stock of PEX on a loop; none where nothing comes back to a heater."""
    runs = facts.plan.runs.values()
    if not any(run.to is not None and run.to.connection == "return" and run.work != "removed" for run in runs):
        return
    from plancheck.circulating import circulation

    loop = circulation(facts)
    if not loop.dedicated:
        return
    found: dict[tuple[str, bool], list[Run]] = {}
    for id_ in loop.runs:
        run = facts.plan.runs[id_]
        tube = tube_of(run, facts.plan)
        if tube is not None and tube.material in _PEX:
            found.setdefault((tube.id, run.work == "existing"), []).append(run)
    for (id_, old), mine in found.items():
        pump = loop.pumps[0] if loop.pumps else None
        name = f"'{id_}' on the loop{' (there already)' if old else ''}"
        yield Subject(
            ("tubes", id_), name, facts.run_place(mine[0].id), Looped(facts.plan.tubes[id_], tuple(mine), pump)
        )


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the class of the tube is made for the hours and the heat of the loop."""
    from plancheck.printmarks import class_digits

    looped: Looped = subject.thing
    if looped.runs[0].work == "existing":
        return on_site(
            f"old tube on the loop ({looped.runs[0].id}): read the four digits behind PEX; a 5 first is for a loop"
        )
    set_ = facts.hot_set(looped.runs[0].id)
    hot = _too_hot(looped, set_, facts, limits) if isinstance(set_, Quantity) else None
    if hot is not None:
        return hot
    digits = class_digits(looped.tube)
    if digits is None:
        raise NotShown(("tubes", looped.tube.id, "print"), "the four digits behind PEX on its print line")
    first, duty = int(digits[0]), _duty(looped, facts)
    limit = limits.of(NONE_0 if first == 0 else DUTY_1 if first < 3 else DUTY_3 if first < 5 else DUTY_5)
    if first > 0 and (first >= 5 or duty.on_demand):
        return _fits(looped, set_, duty, limit, facts)
    if duty.hours is None and first > 0:
        raise NotShown(duty.key, "how many hours a day the pump runs")
    if first > 0 and duty.hours is not None and duty.hours <= limit.number:
        return _fits(looped, set_, duty, limit, facts)
    return _too_low(looped, digits, duty, limit)


def _duty(looped: Looped, facts: Facts) -> Duty:
    """How long the pump of the loop runs a day."""
    if looped.pump is None:
        return Duty(24, False, "goes round by itself all day")
    own = facts.plan.parts[looped.pump].own
    control, hours = getattr(own, "control", None), getattr(own, "hours", None)
    if control in _ON_DEMAND:
        return Duty(None, True, "runs on demand")
    if control == "always":
        return Duty(24, False, "runs all day")
    if isinstance(hours, int | float):
        return Duty(float(hours), False, f"runs {hours:g} hours a day")
    key = "control" if control in (None, NOT_KNOWN) else "hours"
    return Duty(None, False, "runs for hours that are not said", ("parts", looped.pump, key))


def _fits(looped: Looped, set_: object, duty: Duty, limit: InForce, facts: Facts) -> Outcome:
    if not isinstance(set_, Quantity):
        heater = facts.carried(looped.runs[0].id).heated_by or ""
        raise NotShown(("parts", heater, "set"), "the temperature it is set to")
    return holds(f"a loop that {duty.words}", Measured(duty.hours or 0.0, "count"), limit, estimates(set_))


def _named(looped: Looped) -> str:
    more = len(looped.runs) - 3
    return ", ".join(run.id for run in looped.runs[:3]) + (f" and {more} more" if more > 0 else "")


def _too_hot(looped: Looped, set_: Quantity, facts: Facts, limits: Limits) -> Outcome | None:
    warm = limits.of(WARM)
    if set_.si <= warm.number + GRACE_TEMPERATURE_C:
        return None
    heater = facts.carried(looped.runs[0].id).heated_by or ""
    most = facts.quantity(warm.number, "temperature")
    return broken(
        f"'{looped.tube.id}' on the loop ({_named(looped)}) circulates {facts.quantity(set_.si, 'temperature')}; its classes are "
        f"for {most} at most.",
        "correction",
        measured=Measured(set_.si, "temperature"),
        limit=warm,
        mend=f"Set {facts.part_name(heater)} to {most} or less, or temper the loop at the heater.",
        cause=("parts", heater, "set"),
        estimate=estimates(set_),
    )


def _too_low(looped: Looped, digits: str, duty: Duty, limit: InForce) -> Outcome:
    needed = "5" if duty.hours is None or duty.hours > 12 else "3 or 5" if duty.hours > 6 else "1, 3 or 5"
    stands = "no hot water at all" if digits[0] == "0" else f"{limit.number:g} hours a day"
    return broken(
        f"'{looped.tube.id}' on the loop ({_named(looped)}) prints PEX {digits}, which stands {stands}; the loop {duty.words}.",
        "correction",
        measured=Measured(duty.hours if duty.hours is not None else f"PEX {digits}", "count"),
        limit=limit,
        found=f"PEX {digits} on a loop that {duty.words}",
        needed=f"a first digit of {needed}",
        mend=f"Use tube that prints PEX {needed[-1]}xxx on the loop up to its tees, or a pump on demand.",
        at=("tubes", looped.tube.id, "print"),
    )
