"""The expansion tank is big enough and charged to the house pressure

Looks at: each closed stretch of pipe with a heater that stores water and an expansion tank: by how much the water grows
    from the coldest supply to the heater's setting, how far that drives the pressure up with these tanks and their
    charge, and the end against the limit of the house and against the relief valve. And each tank's charge against the
    pressure it hangs on.
Why: a tank too small, or with the factory's charge left in, lets the pressure climb with every heating: the relief
    valve drips, stops and hoses wear, and the tank's bag is stretched each day. A tank that saves the relief valve may
    still drive the house over what its faucets and appliances are made for, so there are two questions.
To mend: charge the tank, empty, to the pressure of the house; if that is not enough take the next size, or lower the
    regulator and the charge together. Lowering the regulator alone gains nothing.
Cannot see: whether air is left in the tank, how far the heater overshoots its setting, what the pipe and the heater give
    by growing themselves (left out, on the safe side).
Ask: the tank maker's own sizing where the code leaves it to him (IRC, UPC); the IPC sets the limit itself.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    PSI_PA,
    Facts,
    HeaterOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    known_quantity,
    of_practice,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.closed import Closed
    from plancheck.expansion import Heated

_80_PSI = 80 * PSI_PA
_SIZED = printed("tank makers' sizing, as codes refer to it", "", "final pressure")
HOUSE = Limit(
    "house",
    "pressure in the house when the heater has done heating",
    "pressure",
    "at most",
    ipc=(Value(_80_PSI, printed("IPC", "2015", "607.3, 604.8"), since=2015),),
    practice=(Value(_80_PSI, _SIZED, practice=True),),
)
_NOTE = printed("an engineer's note on expansion tanks", "", "10 percent below")
_AFTER = "pressure when the heater has done heating, against its relief valve"
RELIEF = of_practice("relief", _AFTER, "of the relief valve's setting", "at most", 0.9, _NOTE)
OPENS = Limit(
    "opens",
    "the relief valve is not the place for heated water to go",
    "of the relief valve's setting",
    "at most",
    irc=(Value(1.0, printed("IRC", "", "P2804.3 to P2804.5")),),
    ipc=(Value(1.0, printed("IPC", "", "504.4, 504.5")),),
    upc=(Value(1.0, printed("UPC", "2015", "608.3")),),
    practice=(Value(1.0, printed("IPC", "", "504.4, 504.5"), practice=True),),
)
_OFF = "charge of an expansion tank off the pressure it hangs on"
CHARGE = of_practice("charge", _OFF, "pressure", "at most", 5 * PSI_PA, recalled("tank makers' sheets", "", "charge"))
RULE = Rule(highest="correction", stage="layout", limits=(HOUSE, RELIEF, OPENS, CHARGE))

_GRACE_PA = 0.05 * PSI_PA
_GRACE_CHARGE_PA = 0.5 * PSI_PA


class Asked(NamedTuple):
    """One question: house, relief, or charge of one tank (the first of tanks)."""

    asks: str
    heaters: tuple[str, ...]
    tanks: tuple[str, ...]
    unsaid: Path | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stretch with a heater and a tank, twice; then each tank."""
    plan = facts.plan
    tanks = [p for p in plan.parts.values() if p.is_ == "expansion tank" and p.work != "removed"]
    for stretch in _stretches(facts) if tanks else ():
        first, place = stretch.tanks[0], plan.parts[stretch.tanks[0]].place
        name = facts.part_name(first)
        thing = Asked("house", stretch.heaters, stretch.tanks, stretch.unsaid)
        yield Subject(("parts", first), f"pressure in the house with {name}", place, thing)
        if any(_relief(facts, heater) != NONE for heater in stretch.heaters):
            yield Subject(("parts", first), f"relief valve with {name}", place, thing._replace(asks="relief"))
    for tank in tanks:
        name = f"charge of {facts.part_name(tank.id)}"
        yield Subject(("parts", tank.id), name, tank.place, Asked("charge", (), (tank.id,), None), "finished")


def _stretches(facts: Facts) -> "Iterator[Closed]":
    from plancheck.closed import with_tanks

    return with_tanks(facts)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the pressure ends within the limit of the house, below the relief valve, and the charge fits."""
    asked: Asked = subject.thing
    if asked.asks == "charge":
        return _charge(asked.tanks[0], facts, limits)
    owns = {id_: facts.plan.parts[id_].own for id_ in asked.heaters}
    storing = tuple(id_ for id_, own in owns.items() if isinstance(own, HeaterOwn) and not own.tankless)
    if not storing:
        return holds("nothing is stored")
    from plancheck.expansion import heated

    asked = asked._replace(heaters=storing)
    found = heated(facts, asked.heaters, asked.tanks)
    outcome = _house(asked, found, facts, limits) if asked.asks == "house" else _valve(asked, found, facts, limits)
    if outcome.kind == "broken" and asked.unsaid is not None:
        raise NotShown(
            asked.unsaid, "whether the meter has a check, which would close the house (check: true or false)"
        )
    return outcome


def _relief(facts: Facts, heater: str) -> object:
    own = facts.plan.parts[heater].own
    return own.relief if isinstance(own, HeaterOwn) else None


def _house(asked: Asked, found: "Heated", facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(HOUSE)
    if found.end_pa is not None and found.end_pa <= limit.number + _GRACE_PA:
        return holds("", Measured(found.end_pa, "pressure"), limit, found.about)
    from plancheck.expansion import too_strong
    from plancheck.tanksizes import end_words, mend_words, set_up_words

    end = end_words(found, facts)
    old = not any(is_new(facts.plan.parts[tank]) for tank in asked.tanks)
    return broken(
        f"{set_up_words(found, asked.heaters, facts)}: {facts.quantity(found.growth_m3, 'volume')} of growth "
        f"{end} from {facts.quantity(found.line_pa, 'pressure')}; limit {facts.quantity(limit.number, 'pressure')}.",
        "advice" if old else "correction",
        measured=Measured(found.end_pa, "pressure") if found.end_pa is not None else Measured("tank full", "text"),
        limit=limit,
        found=f"{end} by heating",
        mend=mend_words(found.tanks, found.line_pa, found.growth_m3, limit.number, facts),
        cause=too_strong(found, asked.tanks, limit.number, facts) or _wrong_charge(asked, found, limit.number, facts),
        at=("parts", asked.tanks[0], "volume"),
        estimate=found.about,
    )


def _wrong_charge(asked: Asked, found: "Heated", most_pa: float, facts: Facts) -> Path | None:
    """The charge that alone is at fault; where the charge is judged."""
    from plancheck.tanksizes import worst_charged

    tank = worst_charged(found, asked.tanks, most_pa) if facts.stage == "finished" else None
    return ("parts", tank, "precharge") if tank is not None else None


def _valve(asked: Asked, found: "Heated", facts: Facts, limits: Limits) -> Outcome:
    """Against the lowest relief valve: over its setting it opens each time, within a tenth of it it weeps."""
    heater, setting = min(_settings(asked, facts), key=lambda pair: pair[1].si)
    near, opens = limits.of(RELIEF), limits.of(OPENS)
    about = ", ".join(filter(None, (found.about, estimates(setting))))
    measured = Measured(found.end_pa, "pressure") if found.end_pa is not None else Measured("tank full", "text")
    if found.end_pa is not None and found.end_pa <= near.number * setting.si + _GRACE_PA:
        return holds("", measured, near, about)
    from plancheck.tanksizes import end_words, mend_words

    over = found.end_pa is None or found.end_pa >= setting.si
    limit, most_pa = opens if over else near, min(near.number * setting.si, limits.of(HOUSE).number)
    house = _house_cause(asked, found, limits)
    old = not any(is_new(facts.plan.parts[tank]) for tank in asked.tanks)
    end = end_words(found, facts)
    return broken(
        f"Heating {end}; the relief valve opens at {facts.quantity(setting.si, 'pressure')}.",
        "correction" if over and not old else "advice",
        measured=measured,
        limit=limit,
        found=f"{end}",
        needed=f"at most {facts.quantity(near.number * setting.si, 'pressure')}, a tenth below the relief valve",
        mend=mend_words(found.tanks, found.line_pa, found.growth_m3, most_pa, facts),
        cause=house or _wrong_charge(asked, found, near.number * setting.si, facts),
        at=("parts", heater, "relief", "pressure"),
        estimate=about,
    )


def _house_cause(asked: Asked, found: "Heated", limits: Limits) -> Path | None:
    """The finding on the house, where there is one."""
    house: InForce = limits.of(HOUSE)
    over = found.end_pa is None or found.end_pa > house.number + _GRACE_PA
    return ("parts", asked.tanks[0], "volume") if over else None


def _settings(asked: Asked, facts: Facts) -> Iterator[tuple[str, Quantity]]:
    for heater in asked.heaters:
        relief, path = _relief(facts, heater), ("parts", heater, "relief")
        if relief == NONE:
            continue
        if relief is None or isinstance(relief, str):
            raise NotShown(path, "what the relief valve opens at")
        yield (
            heater,
            known_quantity(getattr(relief, "pressure", None), (*path, "pressure"), "what the relief valve opens at"),
        )


def _charge(id_: str, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.expansion import hung_on

    limit = limits.of(CHARGE)
    own = facts.plan.parts[id_].own
    charge = known_quantity(
        getattr(own, "precharge", None),
        ("parts", id_, "precharge"),
        "what the tank's air is charged to, read while empty",
    )
    line_pa, about = hung_on(facts, id_)
    off_pa, about = abs(charge.si - line_pa), ", ".join(filter(None, (estimates(charge), about)))
    if off_pa <= limit.number + _GRACE_CHARGE_PA:
        return holds("", Measured(off_pa, "pressure"), limit, about)
    line, said = facts.quantity(line_pa, "pressure"), facts.quantity(charge.si, "pressure")
    way = "below" if charge.si < line_pa else "above"
    return broken(
        f"{capital(facts.part_name(id_))} is charged to {said}, {facts.quantity(off_pa, 'pressure')} {way} the {line} it hangs on.",
        "advice",
        measured=Measured(off_pa, "pressure"),
        limit=limit,
        found=f"charged to {said}",
        needed=f"within {facts.quantity(limit.number, 'pressure')} of {line}",
        why="Charged too low the tank is half full of cold water before anything is heated; too high it takes nothing "
        "until the pressure has climbed to its charge.",
        mend=f"Shut the water, drain the tank's side, and charge it with a pump to {line}, within {facts.quantity(2 * PSI_PA, 'pressure')}.",
        at=("parts", id_, "precharge"),
        estimate=about,
    )
