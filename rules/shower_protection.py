"""Shower and tub valves that hold temperature, set to the limit, and tested at this head's flow

Looks at: the valve in each shower and tub with a shower: its kind and what it is listed to. How hot its limit stop lets
    water out. The limiter of each bathtub without a shower and each bidet that gets hot water. Each head and hand spray
    against the least flow its valve was tested at. A mixing valve at the heater never counts as a shower's own.
Why: when somebody flushes, an old two-handle shower turns hot within a second, and the one under it falls or is scalded.
    A limit stop set in the shop is set for another house. A slow head leaves a valve too little flow to feel anything.
To mend: a pressure-balanced or thermostatic valve listed to ASSE 1016, its stop set to 120 degF at most with the heater as
    hot as it gets, and a head that passes at least the valve's least flow.
Cannot see: where the stop really stands: run it on the hottest and hold a thermometer in it. A stuck balancing spool.
Ask: whether an old shower valve that stays in its wall may stay: in most places it may. No re-pipe makes it safe.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GPM_M3S,
    GRACE_FLOW_M3S,
    GRACE_TEMPERATURE_C,
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
    Limit,
    Limits,
    Measured,
    Mixer,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Subject,
    Value,
    at_least,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    known_text,
    later,
    on_site,
    printed,
    recalled,
)

_120, _110 = (120 - 32) / 1.8, (110 - 32) / 1.8
_VALVE = "pressure balanced, thermostatic or both, listed to ASSE 1016"
_TUB = "a device that limits hot water, listed to ASSE 1070"
_FLOW = "a head that passes at least the flow its valve is tested at"
DEVICE = Limit("device", "valve of a shower", "text", "", irc=(Value(_VALVE, printed("IRC", "2015", "P2708.4")),),
               ipc=(Value(_VALVE, printed("IPC", "2018", "412.3 (424.3 to 2015)")),),
               upc=(Value(_VALVE, printed("UPC", "2015", "408.3")),),
               practice=(Value(_VALVE, printed("IRC, IPC and UPC", "", "P2708.4, 412.3, 408.3")),))  # fmt: skip
STOP = Limit("stop", "hottest water of a shower or tub", "temperature", "at most",
             irc=(Value(_120, printed("IRC", "2015", "P2708.4")),),
             ipc=(Value(_120, printed("IPC", "2018", "412.3 (424.3 to 2015)")),),
             upc=(Value(_120, printed("UPC", "2015", "408.3")),),
             practice=(Value(_120, printed("IRC, IPC and UPC", "", "P2708.4, 412.3, 408.3")),))  # fmt: skip
BIDET = Limit("bidet", "hottest water of a bidet", "temperature", "at most",
              irc=(Value(_110, recalled("IRC", "", "P2721.2")),), ipc=(Value(_110, printed("IPC", "", "408.3")),),
              upc=(Value(_110, recalled("UPC", "2021", "410.3")),),
              practice=(Value(_110, printed("IPC", "", "408.3"), practice=True),))  # fmt: skip
LIMITER = Limit("limiter", "hot water of a tub or bidet", "text", "", irc=(Value(_TUB, recalled("IRC", "", "P2713.3")),),
                ipc=(Value(_TUB, printed("IPC", "2021", "412.5")),), upc=(Value(_TUB, printed("UPC", "2021", "409.4")),),
                practice=(Value(_TUB, printed("IPC and UPC", "2021", "412.5, 409.4"), practice=True),))  # fmt: skip
FLOW = Limit("flow", "flow of a head against its valve", "text", "", upc=(Value(_FLOW, printed("UPC", "2015", "408.3")),),
             practice=(Value(_FLOW, PRACTICE, practice=True),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(DEVICE, STOP, BIDET, LIMITER, FLOW))

_SOONER = "Children and the old are burned sooner; the valve is set and measured on site as its maker says."
_SHOWERS = ("shower", "tub and shower")
_LIMITED = (*_SHOWERS, "bathtub", "bidet")
_HOLDING = ("pressure balanced", "thermostatic", "combination")
_OTHERS = {"1017": "made for the heater", "1062": "a flow reducer", "1066": "a balancer in the line",
           "1069": "made for a row of showers on one tempered pipe", "1070": "a limiter for tubs and basins"}  # fmt: skip


class Asked(NamedTuple):
    """One question on a fixture: device, limiter, stop, head or spray."""

    part: Part
    asks: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Device or limiter, limit stop, and each head, of every shower, tub and bidet that gets hot water."""
    for part in facts.plan.parts.values():
        own = part.own
        if part.is_ not in _LIMITED or part.work == "removed" or not isinstance(own, FixtureOwn) or own.hot == NONE:
            continue
        if part.is_ == "bidet" and facts.network.outlets[f"{part.id}/hot"] not in facts.traced.services:
            continue
        name, path = facts.part_name(part.id), ("parts", part.id, "mixer")
        asks = "device" if part.is_ in _SHOWERS else "limiter"
        yield Subject(path, f"{'valve' if asks == 'device' else 'limiter'} of {name}", part.place, Asked(part, asks))
        if not isinstance(own.mixer, Mixer):
            continue
        yield Subject((*path, "limit"), f"limit stop of {name}", part.place, Asked(part, "stop"))
        if part.is_ in _SHOWERS:
            yield Subject(("parts", part.id, "head"), f"head of {name}", part.place, Asked(part, "head"))
            if isinstance(own.spray, Quantity):
                yield Subject(("parts", part.id, "spray"), f"hand spray of {name}", part.place, Asked(part, "spray"))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the valve is of the right kind, set low enough, and tested for the flow that runs through it."""
    asked: Asked = subject.thing
    own = asked.part.own
    assert isinstance(own, FixtureOwn)
    if asked.asks == "device":
        return _device(asked.part, own.mixer, facts, limits)
    if asked.asks == "limiter":
        return _limiter(asked.part, own.mixer, facts, limits)
    assert isinstance(own.mixer, Mixer)
    if asked.asks == "stop":
        return _stop(asked.part, own.mixer, facts, limits)
    flow = own.head if asked.asks == "head" else own.spray
    return _flow(asked, own.mixer, flow, facts, limits)


def _device(part: Part, mixer: Mixer | str | None, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.standards import numbers_in

    path = ("parts", part.id, "mixer")
    if mixer is None or mixer == NOT_KNOWN:
        raise NotShown(path, "the shower's valve (mixer: kind and standard)")
    if not isinstance(mixer, Mixer):
        return _unsafe(part, "nothing that holds its temperature", facts, limits)
    if mixer.kind in ("two handle", "single handle"):
        return _unsafe(part, f"a {mixer.kind} valve that does not hold its temperature", facts, limits)
    if mixer.standard == NONE:
        return _unsafe(part, "a valve that is listed to nothing", facts, limits)
    standard = known_text(mixer.standard, (*path, "standard"), "what the shower's valve is listed to (ASSE 1016)")
    numbers = numbers_in(standard)
    if "1016" in numbers:
        return holds(f"listed to {standard}")
    other = next((number for number in _OTHERS if number in numbers), None)
    if other is not None:
        return _unsafe(part, f"a valve listed to {standard} alone, {_OTHERS[other]}", facts, limits)
    return on_site(f"'{standard}' is no standard known here: see whether the valve is listed to ASSE 1016")


def _unsafe(part: Part, what: str, facts: Facts, limits: Limits) -> Outcome:
    name, new = facts.part_name(part.id), is_new(part)
    return broken(
        f"{capital(name)} has {what}.",
        "hazard" if new else "advice",
        limit=limits.of(DEVICE),
        found=what,
        needed=_VALVE,
        mend="Fit a pressure-balanced or thermostatic valve listed to ASSE 1016 and set its stop to "
        f"{facts.quantity(_120, 'temperature')} at most."
        if new
        else "Change it for one listed to ASSE 1016 while the wall is open; in most places it may stay, but the re-pipe does "
        "not make it safe.",
        caution=_SOONER,
    )


def _limiter(part: Part, mixer: Mixer | str | None, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.limiters import limited_by
    from plancheck.standards import numbers_in

    name, path = facts.part_name(part.id), ("parts", part.id, "mixer")
    own = mixer.standard if isinstance(mixer, Mixer) else None
    if own is not None and own not in (NONE, NOT_KNOWN) and numbers_in(own) & {"1070", "1016"}:
        return holds(f"limited by its own valve, {own}")
    before = limited_by(facts, part.id)
    if before:
        return holds(f"limited by {before}")
    if mixer is None or mixer == NOT_KNOWN:
        raise NotShown(path, "what limits its hot water (mixer: standard)")
    if own is None or own == NOT_KNOWN:
        if isinstance(mixer, Mixer):
            raise NotShown((*path, "standard"), "what its valve is listed to (ASSE 1070)")
    elif own != NONE and not numbers_in(own):
        return on_site(f"'{own}' is no standard known here: see whether it limits hot water (ASSE 1070)")
    if not is_new(part):
        return on_site(f"existing {name}: nothing said of it limits its hot water")
    return broken(
        f"{capital(name)} has nothing that limits its hot water.",
        "correction",
        limit=limits.of(LIMITER),
        found="no limiter" if own in (None, NONE) else f"listed to {own}",
        needed=_TUB,
        mend="Fit a limiter listed to ASSE 1070 on its hot side, set to "
        f"{facts.quantity(_110 if part.is_ == 'bidet' else _120, 'temperature')}.",
    )


def _stop(part: Part, mixer: Mixer, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(BIDET if part.is_ == "bidet" else STOP)
    if not isinstance(mixer.limit, Quantity):
        if facts.stage != "finished":
            return later("its stop is set and measured when the house is finished")
        return on_site(f"run it on the hottest for two minutes: at most {facts.quantity(limit.number, 'temperature')}")
    about, measured = estimates(mixer.limit), Measured(mixer.limit.si, "temperature")
    if mixer.limit.si <= limit.number + GRACE_TEMPERATURE_C:
        return holds("", measured, limit, about)
    most, soon = facts.quantity(limit.number, "temperature"), facts.burns_in(mixer.limit.si)
    burns = f", which burns in {soon}" if soon.startswith("about") else ""
    return broken(
        f"{capital(facts.part_name(part.id))}: its stop lets out {mixer.limit.text}{burns}; at most {most}.",
        "correction" if part.is_ == "bidet" else "hazard",
        measured=measured,
        limit=limit,
        mend=f"Turn the stop back to {most} or less with the heater as hot as it gets, and measure.",
        caution=_SOONER,
        estimate=about,
    )


def _flow(asked: Asked, mixer: Mixer, flow: Quantity | str | None, facts: Facts, limits: Limits) -> Outcome:
    part = asked.part
    if mixer.kind not in (None, NOT_KNOWN, *_HOLDING):
        return holds("its valve holds no temperature at any flow")
    if not isinstance(flow, Quantity):
        raise NotShown(("parts", part.id, asked.asks), "the rated flow of the head")
    if not isinstance(mixer.least, Quantity):
        raise NotShown(("parts", part.id, "mixer", "least"), "the least flow its valve is tested at")
    about, measured = estimates(flow, mixer.least), Measured(flow.si, "flow")
    if at_least(flow.si, mixer.least.si, GRACE_FLOW_M3S):
        return holds(f"{flow.text} on a valve tested down to {mixer.least.text}", measured, None, about)
    name = facts.part_name(part.id)
    if not is_new(part):
        return on_site(f"existing {name}: {flow.text} through a valve tested down to {mixer.least.text}")
    return broken(
        f"{capital(name)}: its valve is tested down to {mixer.least.text}, its "
        f"{'head' if asked.asks == 'head' else 'hand spray'} passes {flow.text}.",
        "correction",
        measured=measured,
        limit=limits.of(FLOW),
        found=flow.text,
        needed=f"at least {mixer.least.text}",
        why="Under its least flow nobody has seen whether the valve holds its temperature.",
        mend=_other_head(flow, mixer.least, facts),
        estimate=about,
    )


def _other_head(flow: Quantity, least: Quantity, facts: Facts) -> str:
    most_m3s = 2.5 * GPM_M3S
    if least.si > most_m3s + GRACE_FLOW_M3S:
        return f"No head may pass {least.text}: fit a valve tested down to {flow.text}."
    most = facts.quantity(most_m3s, "flow")
    return f"Fit a head of at least {least.text} (and not over {most}), or a valve tested down to {flow.text}."
