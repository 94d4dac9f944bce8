"""Set temperature, both sides said: scald and bacteria

Looks at: how hot the water is that each heater, or the mixing valve behind it, sends to the outlets, and which of them have
    nothing that limits it. Showers and tubs are judged by their own valves; dishwashers and washers do not scald. For each
    heater that stores water, whether the store is lukewarm.
Why: at 120 degF skin burns in minutes, at 140 in seconds. But a store under 120 keeps bacteria comfortable, which people
    breathe in under a shower. No one number is safe on both sides.
To mend: 120 degF throughout; or store 140 and fit a valve for the heater (ASSE 1017) at 120, and limiting valves at outlets.
Cannot see: what the dial really gives: run a tap for three minutes and hold a thermometer in it.
Ask: a doctor, where the very old, the very young or the ill live in the house.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_TEMPERATURE_C,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
    HeaterOwn,
    Limit,
    Limits,
    Measured,
    Mixer,
    MixingOwn,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    listed,
    printed,
    recalled,
)

_120, _140 = (120 - 32) / 1.8, (140 - 32) / 1.8
ADVISED = Limit("advised", "hot water where nothing limits it", "temperature", "at most",
                practice=(Value(_120, printed("advice of paediatricians and of energy agencies", "", "120 degF"), practice=True),))  # fmt: skip
HOTTEST = Limit("hottest", "hot water sent to outlets", "temperature", "at most",
                ipc=(Value(_140, recalled("IPC", "", "501, outlet of tankless heaters; a city's copy was read")),),
                practice=(Value(_140, PRACTICE, practice=True),))  # fmt: skip
STORED = Limit("stored", "water kept in a tank", "temperature", "at least",
               practice=(Value(_120, printed("trade and health pages", "", "growth from 68 to 122 degF"), practice=True),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(ADVISED, HOTTEST, STORED))

_NO_STORE = ("tankless", "point of use", "boiler coil")
_HOT_TAPS = ("lavatory", "kitchen sink", "bar sink", "laundry tray", "bidet")


def _both(facts: Facts) -> str:
    """The sentence that every answer carries."""
    return (
        f"A hotter store keeps bacteria down, a cooler outlet saves skin: stored at {facts.quantity(_140, 'temperature')}, "
        "mixed at the heater and limited at the outlets serves both; no single number does."
    )


class Sent(NamedTuple):
    """What sets the temperature of hot outlets, a heater or a mixing valve, and the outlets that get it."""

    part: Part
    said: Quantity | str | None
    outlets: tuple[Part, ...]


def subjects(facts: Facts) -> Iterator[Subject]:
    """What each heater and house mixing valve sends to outlets; the store of each heater that has one."""
    served: dict[str, list[Part]] = {}
    for side, tap in facts.network.outlets.items():
        setter = facts.traced.heated.get(tap)
        if setter is not None:
            served.setdefault(setter, []).append(facts.plan.parts[side.partition("/")[0]])
    for part in facts.plan.parts.values():
        own = part.own
        if part.work == "removed" or not isinstance(own, HeaterOwn | MixingOwn):
            continue
        name, sent = facts.part_name(part.id), Sent(part, own.set, tuple(served.get(part.id, ())))
        if isinstance(own, HeaterOwn) or sent.outlets:
            yield Subject(("parts", part.id, "set"), f"water that {name} sends out", part.place, sent)
        if isinstance(own, HeaterOwn) and own.style not in _NO_STORE:
            yield Subject(("parts", part.id, "set"), f"water that {name} stores", part.place, own)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether what is sent out scalds, or what is stored is lukewarm."""
    if isinstance(subject.thing, Sent):
        return _sent(subject.thing, facts, limits)
    return _stored(subject, facts, limits)


def _sent(sent: Sent, facts: Facts, limits: Limits) -> Outcome:
    name = facts.part_name(sent.part.id)
    if not sent.outlets:
        return holds(f"no outlet gets it as {name} gives it. {_both(facts)}")
    said, advised, hottest = sent.said, limits.of(ADVISED), limits.of(HOTTEST)
    if not isinstance(said, Quantity):
        raise NotShown(("parts", sent.part.id, "set"), "the temperature it is set to")
    about, measured = estimates(said), Measured(said.si, "temperature")
    if said.si > hottest.number + GRACE_TEMPERATURE_C:
        most = facts.quantity(hottest.number, "temperature")
        return broken(
            f"{capital(name)} sends out {said.text}: an adult is burned in {facts.burns_in(said.si)}, a child sooner.",
            "hazard",
            measured=measured,
            limit=hottest,
            needed=f"at most {most}",
            mend=_mend(facts, sent.part),
            caution=_both(facts),
            estimate=about,
        )
    if said.si <= advised.number + GRACE_TEMPERATURE_C:
        return holds(_both(facts), measured, advised, about)
    bare = tuple(dict.fromkeys(facts.part_name(one.id) for one in sent.outlets if _is_bare(one, facts)))
    if not bare:
        if any(one.is_ == "rest of house" for one in sent.outlets):
            raise NotShown(
                ("parts", sent.part.id, "set"), "which outlets in the rest of the house limit their hot water"
            )
        return holds(f"every outlet that could scald limits it. {_both(facts)}", measured, advised, about)
    return _unlimited(sent, said, bare, facts, limits)


def _is_bare(part: Part, facts: Facts) -> bool:
    """Whether hot water comes out of it as hot as it is sent: not where a mixer is listed, or set, to limit it."""
    from plancheck.standards import numbers_in

    if part.is_ not in _HOT_TAPS:
        return False
    mixer = part.own.mixer if isinstance(part.own, FixtureOwn) else None
    if not isinstance(mixer, Mixer):
        return True
    if isinstance(mixer.limit, Quantity):
        return mixer.limit.si > _120 + GRACE_TEMPERATURE_C
    return mixer.standard is None or not numbers_in(mixer.standard) & {"1070", "1016"}


def _unlimited(sent: Sent, said: Quantity, bare: tuple[str, ...], facts: Facts, limits: Limits) -> Outcome:
    name = facts.part_name(sent.part.id)
    many = "gets" if len(bare) == 1 else "get"
    return broken(
        f"{capital(name)} is set to {said.text}, and {listed(bare)} {many} it unlimited: an adult is burned in "
        f"{facts.burns_in(said.si)}, a child sooner.",
        "advice",
        measured=Measured(said.si, "temperature"),
        limit=limits.of(ADVISED),
        mend=_mend(facts, sent.part),
        caution=f"{_both(facts)} A faucet of which the plan says nothing is taken to limit nothing.",
        estimate=estimates(said),
    )


def _mend(facts: Facts, part: Part | None = None) -> str:
    low, high = facts.quantity(_120, "temperature"), facts.quantity(_140, "temperature")
    if part is not None and isinstance(part.own, MixingOwn):
        return f"Set it to {low} with a thermometer at a tap, as its maker says."
    return f"Set it to {low}; or keep the store at {high} and fit a valve for the heater (ASSE 1017) set to {low}."


def _stored(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    own: HeaterOwn = subject.thing
    limit, path = limits.of(STORED), subject.path
    if not isinstance(own.set, Quantity):
        raise NotShown(path, "the temperature it is set to")
    about, measured = estimates(own.set), Measured(own.set.si, "temperature")
    if own.set.si >= limit.number - GRACE_TEMPERATURE_C:
        return holds(_both(facts), measured, limit, about)
    if own.style is None or own.style == NOT_KNOWN:
        raise NotShown((*path[:-1], "style"), "whether the heater stores hot water")
    name = facts.part_name(str(path[1]))
    return broken(
        f"{capital(name)} stores water at {own.set.text}: lukewarm, where bacteria grow.",
        "advice",
        measured=measured,
        limit=limit,
        mend=_mend(facts),
        caution=_both(facts),
        estimate=about,
    )
