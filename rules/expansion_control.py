"""Heated water in a closed house has somewhere to go, and nothing shuts it off from the heater

Looks at: the pipe from each water heater back to the source. A regulator, a check valve, a backflow preventer, or a
    check in the meter, a filter, a softener or a stop closes the house: then a tank storing hot water wants an
    expansion tank on its own side of all of them (UPC: any heater). And whether closing one valve parts an expansion
    tank from the heater. Check valves on a hot return close nothing.
Why: forty gallons heated grow by half a gallon. In a closed house the pressure runs up with every heating until the
    relief valve drips, hoses and fill valves give, and the heater's seams work. The relief valve is the last guard and
    no code counts it as the place for that water.
To mend: tee an expansion tank into the heater's cold pipe, after the heater's valve and after every check, charged to
    the pressure of the house.
Cannot see: a check hidden in a meter or softener that the plan does not tell; a regulator that lets water pass back
    (it does so only while the street is below the house, so it counts as closed here); whether the tank still holds air.
Ask: the water company whether its meter has a check, and the inspector which devices count as closing the house.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NOT_KNOWN,
    PRACTICE,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    of_practice,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.closed import Closed

_STORED = (
    "an expansion tank or a listed expansion relief on the heater's side of every check, where hot water is stored"
)
_ANY = "an expansion tank on the building's side of every check or regulator, whatever the heater"
CONTROL = Limit(
    "control",
    "somewhere for heated water to go where the house is closed",
    "text",
    "",
    irc=(Value(_STORED, recalled("IRC", "2018", "P2903.4.1, P2903.4.2")),),
    ipc=(Value(_STORED, printed("IPC", "2015", "607.3"), since=2015),),
    upc=(Value(_ANY, printed("UPC", "2015", "608.2, 608.3")),),
    practice=(Value(_STORED, PRACTICE, practice=True),),
)
NO_VALVE = of_practice(
    "no_valve",
    "no valve between expansion tank and heater",
    "text",
    "",
    "a tank between heater and shutoff",
    printed("a federal retrofit specification", "", "7.8104.8"),
)
RULE = Rule(highest="correction", stage="layout", limits=(CONTROL, NO_VALVE))

_TANKLESS = ("tankless", "boiler coil")


class Question(NamedTuple):
    """What is asked of a heater or a tank (closed, side, valve), with the stretch of the heater or of the nearest one."""

    asks: str
    part: Part
    stretch: "Closed"
    stretches: tuple["Closed", ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each heater; then for each expansion tank its side of the checks, and the valves between it and a heater."""
    heaters = [p for p in facts.plan.parts.values() if isinstance(p.own, HeaterOwn) and p.work != "removed"]
    if not heaters:
        return
    from plancheck.closed import closed_stretch

    stretches = tuple(closed_stretch(facts, heater.id) for heater in heaters)
    for heater, stretch in zip(heaters, stretches, strict=True):
        name = f"what {facts.part_name(heater.id)} heats"
        yield Subject(("parts", heater.id), name, heater.place, Question("closed", heater, stretch, stretches))
    for part in facts.plan.parts.values():
        if part.is_ != "expansion tank" or part.work == "removed":
            continue
        mine = next((stretch for stretch in stretches if part.id in stretch.tanks), None)
        name = facts.part_name(part.id)
        thing = Question("side", part, mine or stretches[0], stretches)
        yield Subject(("parts", part.id), f"side of {name}", part.place, thing)
        if mine is not None:
            thing = Question("valve", part, mine, stretches)
            yield Subject(("parts", part.id), f"valves between {name} and the heater", part.place, thing)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the water has somewhere to go, the tank is on the right side, and no valve parts it from the heater."""
    asked: Question = subject.thing
    if asked.asks == "closed":
        return _closed(asked, facts, limits)
    return _side(asked, facts, limits) if asked.asks == "side" else _valve(asked, facts, limits)


def _closed(asked: Question, facts: Facts, limits: Limits) -> Outcome:
    heater, stretch = asked.part, asked.stretch
    if facts.network.source is None or heater.id not in facts.network.number:
        raise NotShown(("parts", heater.id), "a source from which the heater gets its water")
    if facts.network.number[f"{heater.id}/cold"] not in facts.traced.parents:
        raise NotShown(("runs",), f"where {facts.part_name(heater.id)} gets its cold water")
    if stretch.open_:
        if _well(facts):
            return holds("the pump's own pressure tank takes it; nothing closes between")
        return holds("can push back to the street")
    if stretch.tanks:
        return holds(f"{facts.part_name(stretch.tanks[0])} takes it")
    assert isinstance(heater.own, HeaterOwn)
    if heater.own.expansion == "relief valve":
        return holds("a listed expansion relief takes it")
    if _stored(heater, facts) is False and facts.family in ("irc", "ipc"):
        return holds("nothing is stored")
    if stretch.unsaid is not None:
        raise NotShown(
            stretch.unsaid, "whether the meter has a check, which would close the house (check: true or false)"
        )
    return _without_tank(asked, facts, limits)


def _without_tank(asked: Question, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.closed import closer_name

    heater, closers = asked.part, asked.stretch.closers
    closed_by = closer_name(facts, closers[0]) if closers else "what stands in the line"
    if not is_new(heater) and all(not is_new(facts.plan.parts[one]) for one in closers):
        return on_site(f"old heater closed off by {closed_by} without a tank in the plan: look whether one is there")
    stored = _stored(heater, facts)
    if stored is None and facts.family != "upc":
        raise NotShown(("parts", heater.id, "style"), "whether the heater stores hot water (storage or tankless)")
    if stored is False and facts.family is None:
        raise NotShown(("code", "family"), "whether the code asks for a tank at a heater that stores nothing")
    outside = next((p for p in facts.plan.parts.values() if p.is_ == "expansion tank" and p.work != "removed"), None)
    words = " ".join(filter(None, (_size(heater, facts), facts.part_name(heater.id))))
    lacks = "no expansion tank"
    if outside is not None:
        lacks = f"none on its side: {facts.part_name(outside.id)} is cut off from it"
    return broken(
        f"{closed_by[0].upper()}{closed_by[1:]} closes the house, and the {words} has {lacks}.",
        "correction",
        limit=limits.of(CONTROL),
        found="closed, no expansion tank" if outside is None else "closed, the tank on the wrong side",
        needed="an expansion tank between the heater and every check",
        mend=_mend(heater, facts),
        caution="A regulator that passes water back does so only while the street is below the house.",
        cause=("parts", outside.id) if outside is not None else None,
    )


def _has_volume(heater: Part) -> bool:
    return isinstance(heater.own, HeaterOwn) and isinstance(heater.own.volume, Quantity)


def _size(heater: Part, facts: Facts) -> str:
    own = heater.own
    if isinstance(own, HeaterOwn) and isinstance(own.volume, Quantity):
        return facts.quantity(own.volume.si, "volume")
    return ""


def _stored(heater: Part, facts: Facts) -> bool | None:
    """Whether the heater stores hot water; None where the plan does not tell."""
    own = heater.own
    assert isinstance(own, HeaterOwn)
    if own.style in _TANKLESS:
        return False
    if own.style == "point of use":
        return _has_volume(heater)
    return None if own.style in (None, NOT_KNOWN) and not _has_volume(heater) else True


def _well(facts: Facts) -> bool:
    return any(p.is_ == "source" and getattr(p.own, "kind", None) == "well" for p in facts.plan.parts.values())


def _mend(heater: Part, facts: Facts) -> str:
    """What to add, with its size and charge as far as the plan tells them."""
    from plancheck.expansion import asked_of

    asked = asked_of(facts, heater.id)
    size, charge = "an expansion tank", "charged to the pressure of the house"
    if asked is not None:
        size = f"a tank of at least {facts.quantity(asked.least_m3, 'volume')}"
        charge = f"charged to {facts.quantity(asked.line_pa, 'pressure')}"
    return f"Tee {size} into the heater's cold line after its valve, {charge}."


def _side(asked: Question, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.closed import closer_name

    tank = asked.part
    if any(tank.id in stretch.tanks for stretch in asked.stretches):
        return holds("on the heater's side of every check")
    if facts.network.number[f"{tank.id}/in"] not in facts.traced.parents:
        raise NotShown(("parts", tank.id, "onto"), "what the expansion tank is joined to")
    if _well(facts):
        return holds("the well pump's own tank")
    if not is_new(tank):
        return on_site("an old expansion tank beyond a check: it does nothing for the heater, look what it is for")
    between = closer_name(facts, asked.stretch.closers[0]) if asked.stretch.closers else "a check"
    name = facts.part_name(tank.id)
    return broken(
        f"{name[0].upper()}{name[1:]} is cut off from the heater by {between}, so it takes none of its water.",
        "correction",
        limit=limits.of(CONTROL),
        found=f"{between} between tank and heater",
        needed="the tank on the heater's side of every check",
        mend=f"Move it into the heater's cold line, after the heater's valve and on its side of {between}.",
    )


def _valve(asked: Question, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.closed import parted_by

    tank = asked.part
    valve = parted_by(facts, tank.id, asked.stretch)
    if valve is None:
        return holds("no single valve parts it from the heater")
    part = facts.plan.parts[valve.partition("/")[0]]
    if not is_new(tank) and not is_new(part):
        return on_site(f"{valve} between the old tank and the heater: see that it stays open")
    return broken(
        f"Closing {valve} parts {facts.part_name(tank.id)} from the heater.",
        "advice",
        limit=limits.of(NO_VALVE),
        found=f"{valve} between tank and heater",
        needed="no valve between them",
        why="With that valve closed and the burner on, the heated water has only the relief valve to go to.",
        mend=f"Tee the tank in between the heater's valve and the heater, or take the handle off {valve} and tag it open.",
        ask="No code text on this is known here; a federal retrofit specification asks it, and so do tank makers.",
    )
