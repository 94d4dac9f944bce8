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
    estimates,
    holds,
    is_new,
    known,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.closed import Closed
    from plancheck.expansion import Tank

_PSI = 6894.757293168
_80_PSI = 80 * _PSI
_SIZED = printed("tank makers' sizing, as codes refer to it", "", "final pressure")
HOUSE = Limit(
    "house",
    "pressure in the house when the heater has done heating",
    "pressure",
    "at most",
    ipc=(Value(_80_PSI, printed("IPC", "2015", "607.3, 604.8"), since=2015),),
    practice=(Value(_80_PSI, _SIZED, practice=True),),
)
RELIEF = Limit(
    "relief",
    "pressure when the heater has done heating, against its relief valve",
    "of the relief valve's setting",
    "at most",
    practice=(Value(0.9, printed("an engineer's note on expansion tanks", "", "10 percent below"), practice=True),),
)
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
CHARGE = Limit(
    "charge",
    "charge of an expansion tank off the pressure it hangs on",
    "pressure",
    "at most",
    practice=(Value(5 * _PSI, recalled("tank makers' sheets", "", "charge"), practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(HOUSE, RELIEF, OPENS, CHARGE))

_GRACE_PA = 0.05 * _PSI
_GRACE_CHARGE_PA = 0.5 * _PSI
_TANKLESS = ("tankless", "boiler coil")


class Asked(NamedTuple):
    """One question: house, relief, or charge of one tank (the first of tanks)."""

    asks: str
    heaters: tuple[str, ...]
    tanks: tuple[str, ...]
    unsaid: Path | None


class Found(NamedTuple):
    """What heating does: growth and line, the tanks, the end pressure (None when they are full), and its estimates."""

    growth_m3: float
    line_pa: float
    tanks: "tuple[Tank, ...]"
    end_pa: float | None
    about: str


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
    """The closed stretches with a tank, each once; those that an unsaid meter would close among them."""
    from plancheck.closed import closed_stretch

    done: set[str] = set()
    for part in facts.plan.parts.values():
        if isinstance(part.own, HeaterOwn) and part.work != "removed" and part.id not in done:
            stretch = closed_stretch(facts, part.id)
            done.update(stretch.heaters)
            if stretch.tanks and not stretch.open_:
                yield stretch


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the pressure ends within the limit of the house, below the relief valve, and the charge fits."""
    asked: Asked = subject.thing
    if asked.asks == "charge":
        return _charge(asked.tanks[0], facts, limits)
    storing = tuple(heater for heater in asked.heaters if not _tankless(facts, heater))
    if not storing:
        return holds("nothing is stored")
    found = _heated(asked._replace(heaters=storing), facts)
    outcome = _house(asked, found, facts, limits) if asked.asks == "house" else _valve(asked, found, facts, limits)
    if outcome.kind == "broken" and asked.unsaid is not None:
        raise NotShown(
            asked.unsaid, "whether the meter has a check, which would close the house (check: true or false)"
        )
    return outcome


def _tankless(facts: Facts, heater: str) -> bool:
    own = facts.plan.parts[heater].own
    assert isinstance(own, HeaterOwn)
    return own.style in _TANKLESS or (own.style == "point of use" and own.volume is None)


def _heated(asked: Asked, facts: Facts) -> Found:
    """The growth and the pressure it ends at. Raises NotShown with the first key that is missing."""
    from plancheck.expansion import final_pressure_pa, growth_m3

    coldest: Quantity = known(facts.plan.water.coldest, ("water", "coldest"), "the coldest water of the year")
    growth, said = 0.0, [coldest]
    for heater in asked.heaters:
        own, path = facts.plan.parts[heater].own, ("parts", heater)
        assert isinstance(own, HeaterOwn)
        volume = _said(own.volume, (*path, "volume"), "how much the heater holds")
        hot = _said(own.set, (*path, "set"), "what the heater is set to")
        growth += growth_m3(volume.si, coldest.si, hot.si)
        said += [volume, hot]
    line_pa, about = _line(asked.tanks[0], facts)
    tanks = tuple(_tank(facts, tank, said) for tank in asked.tanks)
    end_pa = final_pressure_pa(tanks, line_pa, growth)
    return Found(growth, line_pa, tanks, end_pa, ", ".join(filter(None, (estimates(*said), about))))


def _said(value: Quantity | str | None, path: Path, what: str) -> Quantity:
    if not isinstance(value, Quantity):
        raise NotShown(path, what)
    return value


def _line(tank: str, facts: Facts) -> tuple[float, str]:
    """The pressure the tank hangs on, and the estimate it is. Raises NotShown."""
    from plancheck.expansion import line_at

    if facts.network.number[f"{tank}/in"] not in facts.traced.parents:
        raise NotShown(("parts", tank, "onto"), "what the expansion tank is joined to")
    zone = facts.standing.at(facts.network.number[f"{tank}/in"])
    line_pa = line_at(facts, tank, "in")
    if zone is None or line_pa is None:
        missing = zone.missing if zone is not None and zone.missing is not None else ("water", "static")
        raise NotShown(missing, "the pressure of the house at the tank")
    return line_pa, zone.about


def _tank(facts: Facts, id_: str, said: list[Quantity]) -> "Tank":
    from plancheck.expansion import Tank

    own, path = facts.plan.parts[id_].own, ("parts", id_)
    volume = _said(getattr(own, "volume", None), (*path, "volume"), "the size of the expansion tank")
    charge = _said(getattr(own, "precharge", None), (*path, "precharge"), "what the tank's air is charged to")
    said += [volume, charge]
    return Tank(volume.si, charge.si)


def _relief(facts: Facts, heater: str) -> object:
    own = facts.plan.parts[heater].own
    return own.relief if isinstance(own, HeaterOwn) else None


def _house(asked: Asked, found: Found, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(HOUSE)
    if found.end_pa is not None and found.end_pa <= limit.number + _GRACE_PA:
        return holds("", Measured(found.end_pa, "pressure"), limit, found.about)
    from plancheck.tanksizes import mend_words

    end = _end(found, facts)
    old = not any(is_new(facts.plan.parts[tank]) for tank in asked.tanks)
    return broken(
        f"{_sizes(found, facts)}, {_heats(asked, facts)}: {facts.quantity(found.growth_m3, 'volume')} of growth "
        f"{end} from {facts.quantity(found.line_pa, 'pressure')}; limit {facts.quantity(limit.number, 'pressure')}.",
        "advice" if old else "correction",
        measured=Measured(found.end_pa, "pressure") if found.end_pa is not None else Measured("tank full", "text"),
        limit=limit,
        found=f"{end} by heating",
        mend=mend_words(found.tanks, found.line_pa, found.growth_m3, limit.number, facts),
        cause=_wrong_charge(asked, found, limit.number, facts),
        at=("parts", asked.tanks[0], "volume"),
        estimate=found.about,
    )


def _end(found: Found, facts: Facts) -> str:
    return (
        "fills the tank" if found.end_pa is None else f"takes the house to {facts.quantity(found.end_pa, 'pressure')}"
    )


def _sizes(found: Found, facts: Facts) -> str:
    sizes = " and ".join(facts.quantity(tank.volume_m3, "volume") for tank in found.tanks)
    charges = {facts.quantity(tank.charge_pa, "pressure") for tank in found.tanks}
    return f"{sizes} tank charged to {' and '.join(sorted(charges))}"


def _heats(asked: Asked, facts: Facts) -> str:
    cold = facts.plan.water.coldest
    words = []
    for heater in asked.heaters:
        own = facts.plan.parts[heater].own
        if isinstance(own, HeaterOwn) and isinstance(own.volume, Quantity) and isinstance(own.set, Quantity):
            size, hot = facts.quantity(own.volume.si, "volume"), facts.quantity(own.set.si, "temperature")
            from_ = facts.quantity(cold.si, "temperature") if isinstance(cold, Quantity) else ""
            words.append(f"{size} heater {from_} to {hot}")
    return " and ".join(words)


def _wrong_charge(asked: Asked, found: Found, most_pa: float, facts: Facts) -> Path | None:
    """The charge that alone is at fault; where the charge is judged."""
    from plancheck.tanksizes import ends_charged_to

    ends_pa = ends_charged_to(found.tanks, found.line_pa, found.growth_m3)
    if ends_pa is None or ends_pa > most_pa + _GRACE_PA or facts.stage != "finished":
        return None
    pairs = zip(asked.tanks, found.tanks, strict=True)
    return ("parts", max(pairs, key=lambda pair: abs(pair[1].charge_pa - found.line_pa))[0], "precharge")


def _valve(asked: Asked, found: Found, facts: Facts, limits: Limits) -> Outcome:
    """Against the lowest relief valve: over its setting it opens each time, within a tenth of it it weeps."""
    from plancheck.tanksizes import mend_words

    heater, setting = min(_settings(asked, facts), key=lambda pair: pair[1].si)
    near, opens = limits.of(RELIEF), limits.of(OPENS)
    about = ", ".join(filter(None, (found.about, estimates(setting))))
    measured = Measured(found.end_pa, "pressure") if found.end_pa is not None else Measured("tank full", "text")
    if found.end_pa is not None and found.end_pa <= near.number * setting.si + _GRACE_PA:
        return holds("", measured, near, about)
    over = found.end_pa is None or found.end_pa >= setting.si
    limit, most_pa = opens if over else near, min(near.number * setting.si, limits.of(HOUSE).number)
    house = _house_cause(asked, found, limits)
    old = not any(is_new(facts.plan.parts[tank]) for tank in asked.tanks)
    end = _end(found, facts)
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


def _house_cause(asked: Asked, found: Found, limits: Limits) -> Path | None:
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
        yield heater, _said(getattr(relief, "pressure", None), (*path, "pressure"), "what the relief valve opens at")


def _charge(id_: str, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(CHARGE)
    own = facts.plan.parts[id_].own
    charge = _said(
        getattr(own, "precharge", None),
        ("parts", id_, "precharge"),
        "what the tank's air is charged to, read while empty",
    )
    line_pa, about = _line(id_, facts)
    off_pa, about = abs(charge.si - line_pa), ", ".join(filter(None, (estimates(charge), about)))
    if off_pa <= limit.number + _GRACE_CHARGE_PA:
        return holds("", Measured(off_pa, "pressure"), limit, about)
    line, said = facts.quantity(line_pa, "pressure"), facts.quantity(charge.si, "pressure")
    way = "below" if charge.si < line_pa else "above"
    return broken(
        f"{facts.part_name(id_)} is charged to {said}, {facts.quantity(off_pa, 'pressure')} {way} the {line} it hangs on.",
        "advice",
        measured=Measured(off_pa, "pressure"),
        limit=limit,
        found=f"charged to {said}",
        needed=f"within {facts.quantity(limit.number, 'pressure')} of {line}",
        why="Charged too low the tank is half full of cold water before anything is heated; too high it takes nothing "
        "until the pressure has climbed to its charge.",
        mend=f"Shut the water, drain the tank's side, and charge it with a pump to {line}, within {facts.quantity(2 * _PSI, 'pressure')}.",
        at=("parts", id_, "precharge"),
        estimate=about,
    )
