"""The heater has a relief valve that opens before the tank is in danger

Looks at: each water heater: whether it has a relief valve; the pressure on its tag against 150 psi, the tank's own rating and
    the pressure that stands at the heater; the temperature on its tag; its capacity against the heat put in.
Why: a tank whose thermostat sticks boils under pressure. Without a valve that opens in time it goes through the roof. A
    valve that opens at the house's own pressure drips all day, and somebody plugs it.
To mend: a valve marked 150 psi and 210 degF, or less, whose tag shows at least the heater's input, in the tank's own
    opening. Never reuse the old one, never put a valve before or behind it.
Cannot see: whether the valve still moves, whether its bulb reaches the hottest water, whether its lever is free.
Ask: whether a tankless heater needs one: the IRC covers them, under the others its maker's sheet tells.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    INCH_M,
    NONE,
    NOT_KNOWN,
    PSI_PA,
    Facts,
    HeaterOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    on_site,
    printed,
    recalled,
)

_150, _210 = 150 * PSI_PA, (210 - 32) / 1.8
_TEXT = "a pressure and temperature relief valve"
NEEDED = Limit("needed", "relief of a water heater", "text", "",
               irc=(Value(_TEXT, printed("IRC", "", "P2804.3 to P2804.5")),), ipc=(Value(_TEXT, printed("IPC", "", "504.4")),),
               upc=(Value(_TEXT, recalled("UPC", "", "504.6 and 608.3")),),
               practice=(Value(_TEXT, printed("IRC and IPC", "", "P2804, 504.4"), practice=True),))  # fmt: skip
PRESSURE = Limit("pressure", "opening pressure of a heater's relief valve", "pressure", "at most",
                 irc=(Value(_150, printed("IRC", "", "P2804.3")),), ipc=(Value(_150, printed("IPC", "", "504.5")),),
                 upc=(Value(_150, recalled("UPC", "", "504.6")),),
                 practice=(Value(_150, printed("IRC and IPC", "", "P2804.3, 504.5"), practice=True),))  # fmt: skip
TEMPERATURE = Limit("temperature", "opening temperature of a heater's relief valve", "temperature", "at most",
                    irc=(Value(_210, printed("IRC", "", "P2804.4")),), ipc=(Value(_210, printed("IPC", "", "504.5")),),
                    upc=(Value(_210, recalled("UPC", "", "504.6")),),
                    practice=(Value(_210, printed("IRC and IPC", "", "P2804.4, 504.5"), practice=True),))  # fmt: skip
CAPACITY = Limit("capacity", "relief valve against the heat put in", "text", "",
                 irc=(Value("at least the heater's input", printed("IRC", "", "P2804.3 to P2804.5")),),
                 ipc=(Value("at least the heater's input", printed("IPC", "", "504.4 to 504.5")),),
                 upc=(Value("at least the heater's input", recalled("UPC", "", "504.6")),),
                 practice=(Value("at least the heater's input", printed("IRC and IPC", "", "P2804, 504"), practice=True),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(NEEDED, PRESSURE, TEMPERATURE, CAPACITY))

_STORES = ("storage", "indirect")
_NO_STORE = ("tankless", "point of use", "boiler coil")
_NO_TANK = "A heater whose control sticks boils what stands in it, and shut off on both sides it has nowhere to push it."
_GRACE_PA = 0.5 * PSI_PA
_GRACE_C = 0.5 / 1.8


class Asked(NamedTuple):
    """One question on a heater: needed, pressure, temperature, capacity or seat."""

    part: Part
    own: HeaterOwn
    asks: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """For each heater whether it has a relief valve; of one that says more its pressure, temperature and capacity."""
    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or part.work == "removed":
            continue
        path: Path = ("parts", part.id, "relief")
        name = facts.part_name(part.id)
        yield Subject(path, f"relief valve of {name}", part.place, Asked(part, own, "needed"))
        if own.relief is None or isinstance(own.relief, str):
            continue
        for asks in ("pressure", "temperature", "capacity"):
            yield Subject((*path, asks), f"{asks} of the relief valve of {name}", part.place, Asked(part, own, asks))
        if own.style not in _NO_STORE:
            yield Subject(path, f"seat of the relief valve of {name}", part.place, Asked(part, own, "seat"))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether there is a relief valve, and whether it opens soon enough and wide enough."""
    asked: Asked = subject.thing
    return _ASKS[asked.asks](asked, facts, limits)


def _needed(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    path, relief = ("parts", asked.part.id, "relief"), asked.own.relief
    if relief is not None and not isinstance(relief, str):
        return holds("it has one")
    if relief is None or relief == NOT_KNOWN:
        if _maker_tells(asked.own, facts):
            return on_site("tankless: whether it needs a relief valve is in its maker's sheet")
        raise NotShown(path, "the heater's relief valve (relief: pressure and temperature from its tag, or none)")
    if _maker_tells(asked.own, facts):
        return on_site("tankless without a relief valve: its maker's sheet must allow that")
    name = facts.part_name(asked.part.id)
    stores = asked.own.style not in _NO_STORE
    where = "in the tank's own opening" if stores else "on its hot outlet, ahead of any valve, as its maker's sheet shows"
    return broken(
        f"{capital(name)} has no relief valve.",
        "hazard",
        limit=limits.of(NEEDED),
        found="none",
        needed=_TEXT,
        why="" if stores else _NO_TANK,
        mend=f"Shut the heater off until it has one: {_marks(asked.own, facts)}, {where}.",
        caution=f"Never heat {'a tank' if stores else 'water'} without a relief valve.",
    )


def _maker_tells(own: HeaterOwn, facts: Facts) -> bool:
    """Whether it is tankless under a code whose text speaks of storage alone."""
    return own.style in _NO_STORE and facts.family in ("ipc", "upc")


def _marks(own: HeaterOwn, facts: Facts) -> str:
    """What the tag of a valve for this heater has to say."""
    most_pa = min(_150, own.rated.si) if isinstance(own.rated, Quantity) else _150
    least = f", its tag at least {facts.quantity(own.input.si, 'power')}" if isinstance(own.input, Quantity) else ""
    return f"{facts.quantity(most_pa, 'pressure')} or less and {facts.quantity(_210, 'temperature')}{least}"


def _pressure(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    said, limit = _relief(asked.own, "pressure"), limits.of(PRESSURE)
    if not isinstance(said, Quantity):
        raise NotShown(("parts", asked.part.id, "relief", "pressure"), "the pressure on the relief valve's tag")
    rated = asked.own.rated if isinstance(asked.own.rated, Quantity) else None
    about, measured = estimates(said, rated), Measured(said.si, "pressure")
    name = facts.part_name(asked.part.id)
    if said.si > limit.number + _GRACE_PA or (rated is not None and said.si > rated.si + _GRACE_PA):
        tank = f", tank rated {rated.text}" if rated is not None else ""
        least = min(limit.number, rated.si) if rated is not None else limit.number
        return _too_much(asked, f"{capital(name)}: relief valve set to {said.text}{tank}.", limit, measured,
                         f"at most {facts.quantity(least, 'pressure')}", about, facts)  # fmt: skip
    standing = _standing(asked.part, facts)
    if standing is not None and said.si <= standing[0]:
        return broken(
            f"{capital(name)}: relief valve set to {said.text}, and {facts.quantity(standing[0], 'pressure')} stands "
            "there: it will run all day, and somebody will plug it.",
            "correction",
            measured=measured,
            found=said.text,
            needed=f"above {facts.quantity(standing[0], 'pressure')}",
            mend="Bring the house pressure down with a regulator, or fit a valve of "
            f"{facts.quantity(_150, 'pressure')} if the tank is rated for it.",
            cause=standing[1],
            estimate=about,
        )
    unsaid = "; the tank's own rating is not said: it must not be less" if rated is None else ""
    return holds(f"set {said.text}{unsaid}", measured, limit, about)


def _standing(part: Part, facts: Facts) -> tuple[float, Path] | None:
    """The pressure that stands at a heater, by height, and the key it comes from; None where it is not known."""
    from plancheck.standing import height_of

    zone = facts.standing.at(facts.network.number[f"{part.id}/cold"])
    found = zone.at_height(height_of(facts, part.id)) if zone is not None else None
    return (found, zone.path) if zone is not None and found is not None else None


def _relief(own: HeaterOwn, key: str) -> object:
    return getattr(own.relief, key, None)


_COLD = "Shut the fuel or power off, let the tank cool and the pressure out before the valve is touched."


def _too_much(
    asked: Asked, says: str, limit: InForce, measured: Measured, needed: str, about: str, facts: Facts
) -> Outcome:
    return broken(
        says,
        "hazard",
        measured=measured,
        limit=limit,
        needed=needed,
        mend=f"Fit a valve of {_marks(asked.own, facts)}; never reuse the old one.",
        caution=_COLD,
        estimate=about,
    )


def _temperature(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    said, limit = _relief(asked.own, "temperature"), limits.of(TEMPERATURE)
    name, key = facts.part_name(asked.part.id), ("parts", asked.part.id, "relief", "temperature")
    if said == NONE:
        if asked.own.style in _STORES:
            return _too_much(asked, f"{capital(name)} stores hot water, and its relief valve opens on pressure alone.",
                             limit, Measured("none", "text"), "a valve that opens on temperature too", "", facts)  # fmt: skip
        if asked.own.style is None or asked.own.style == NOT_KNOWN:
            raise NotShown(("parts", asked.part.id, "style"), "whether the heater stores hot water")
        if facts.family == "irc":
            raise NotShown(key, "whether the maker of the tankless heater lets a valve for pressure alone stand")
        return holds("nothing is stored: pressure alone is enough")
    if not isinstance(said, Quantity):
        raise NotShown(key, "the temperature on the relief valve's tag")
    about, measured = estimates(said), Measured(said.si, "temperature")
    if said.si > limit.number + _GRACE_C:
        most = facts.quantity(limit.number, "temperature")
        return _too_much(asked, f"{capital(name)}: relief valve opens at {said.text}; at most {most}.", limit,
                         measured, f"at most {most}", about, facts)  # fmt: skip
    return holds("", measured, limit, about)


def _capacity(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    said, own = _relief(asked.own, "capacity"), asked.own
    if not isinstance(said, Quantity) or not isinstance(own.input, Quantity):
        least = (
            f"at least {facts.quantity(own.input.si, 'power')}"
            if isinstance(own.input, Quantity)
            else "at least the input"
        )
        return on_site(f"its tag must say {least}")
    about, measured = estimates(said, own.input), Measured(said.si, "power")
    if said.si >= own.input.si * 0.9995:
        return holds("", measured, None, about)
    name = facts.part_name(asked.part.id)
    return _too_much(asked, f"{capital(name)}: relief valve made for {said.text}; the heater puts in {own.input.text}.",
                     limits.of(CAPACITY), measured, f"at least {own.input.text}", about, facts)  # fmt: skip


def _seat(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    top = facts.length(6 * INCH_M)
    return on_site(f"in the tank's own opening, its bulb in the top {top}, no valve or check before it, its lever free")


_ASKS = {"needed": _needed, "pressure": _pressure, "temperature": _temperature, "capacity": _capacity, "seat": _seat}
