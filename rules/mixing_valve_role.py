"""Each mixing valve does the job it is listed for

Looks at: each mixing valve in the line: what it is listed to, against where it stands: at the heater, before one fixture, before
    a row of showers. Where its water circulates, whether the return reaches both the heater and the valve's cold side. The
    smallest draw behind it against the least flow at which it holds its temperature.
Why: a valve for the heater lets the temperature wander by more than skin stands; a shower valve at the heater chokes a house.
    A return that misses the valve's cold side heats the loop up to the store by night.
To mend: ASSE 1017 at the heater, ASSE 1070 before a tub, basin or sink, ASSE 1016 in the shower itself; keep the showers' own
    valves, whatever stands at the heater.
Cannot see: whether the valve was set with a thermometer; scale in it. Solar and wood-fired tanks need one at the tank.
Ask: the maker, for the least flow of a valve at the heater.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_FLOW_M3S,
    GRACE_TEMPERATURE_C,
    NONE,
    NOT_KNOWN,
    TUBS_AND_SHOWERS,
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
    is_new,
    known_text,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.mixingroles import Back, Role

_ROLES = "1017 at the heater, 1070 before a fixture, 1016 in a shower, 1069 before a row of showers"
_RETURN = "to the heater and to the cold side of the mixing valve"
_PAGES = printed("ASSE's scopes", "", "1016, 1017, 1069, 1070, as relayed")
ROLE = Limit("role", "mixing valves by what they are listed to", "text", "", irc=(Value(_ROLES, _PAGES),),
             ipc=(Value(_ROLES, _PAGES),), upc=(Value(_ROLES, _PAGES),),
             practice=(Value(_ROLES, _PAGES, practice=True),))  # fmt: skip
BACK = Limit("back", "return of water that a valve mixes", "text", "", ipc=(Value(_RETURN, printed("IPC", "", "607.2.2")),),
             practice=(Value(_RETURN, printed("IPC", "", "607.2.2"), practice=True),))  # fmt: skip
LEAST = Limit("least", "flow through a mixing valve", "text", "",
              practice=(Value("at least the maker's least flow", printed("makers' sheets", "", "least flow"), practice=True),))  # fmt: skip
SCALD = Limit("scald", "hot water held back by a valve of the wrong kind alone", "temperature", "at most",
              practice=(Value((120 - 32) / 1.8, printed("IRC, IPC and UPC", "", "P2708.4, 412.3, 408.3")),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(ROLE, BACK, LEAST, SCALD))

_SHOWERS = ("shower", "tub and shower")


class Asked(NamedTuple):
    """One question on a mixing valve: role, back or least."""

    part: Part
    own: MixingOwn
    asks: str
    role: "Role"
    back: "Back | None"


def subjects(facts: Facts) -> Iterator[Subject]:
    """Role, return where there is one, and least flow of each mixing valve that something draws through."""
    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, MixingOwn) or part.work == "removed":
            continue
        from plancheck.mixingroles import return_of, role_of

        role, back, name = role_of(facts, part.id), return_of(facts, part.id), facts.part_name(part.id)
        asked = Asked(part, own, "role", role, back)
        yield Subject(("parts", part.id, "standard"), f"job of {name}", part.place, asked)
        if back is not None:
            yield Subject(("parts", part.id), f"return behind {name}", part.place, asked._replace(asks="back"))
        if role.fixtures:
            least = asked._replace(asks="least")
            yield Subject(("parts", part.id, "least"), f"least flow of {name}", part.place, least)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a mixing valve is of the kind its place asks for, is led back to, and sees enough flow."""
    asked: Asked = subject.thing
    if asked.asks == "role":
        return _role(asked, facts, limits)
    return _back(asked, facts, limits) if asked.asks == "back" else _least(asked, facts, limits)


def _role(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.standards import numbers_in

    if not asked.role.fixtures:
        return holds("nothing draws behind it yet")
    wanted, where = _wanted(asked.role)
    if not wanted:
        return holds(where)
    standard = known_text(
        asked.own.standard, ("parts", asked.part.id, "standard"), "what the mixing valve is listed to"
    )
    numbers = numbers_in(standard)
    if numbers & set(wanted):
        return holds(f"{standard}, {where}")
    if standard != NONE and not numbers:
        return on_site(f"'{standard}' is no standard known here: see whether the valve is made for its place, {where}")
    return _wrong(asked, standard, wanted, where, facts, limits)


def _wanted(role: "Role") -> tuple[tuple[str, ...], str]:
    """What a valve there is listed to, and where that is, in words; nothing is asked before toilets alone."""
    kinds = {part.is_ for part in role.fixtures}
    if kinds <= {"toilet", "urinal"}:
        return (), "it keeps tanks from sweating"
    if role.house:
        return ("1017",), f"at the heater, before {len(role.fixtures)} fixtures"
    if len(role.fixtures) > 1:
        return (("1069",) if kinds == {"shower"} else ("1070", "1017")), f"before {len(role.fixtures)} fixtures"
    if kinds & set(_SHOWERS):
        return ("1016", *(("1070",) if _holds_itself(role.fixtures[0]) else ())), "before a shower"
    return ("1070",), f"before a {role.fixtures[0].is_}"


def _holds_itself(part: Part) -> bool:
    """Whether a fixture has a valve of its own that is listed to hold its temperature."""
    from plancheck.standards import numbers_in

    mixer = part.own.mixer if isinstance(part.own, FixtureOwn) else None
    return (
        isinstance(mixer, Mixer) and mixer.standard is not None and bool(numbers_in(mixer.standard) & {"1016", "1070"})
    )


def _wrong(asked: Asked, standard: str, wanted: tuple[str, ...], where: str, facts: Facts, limits: Limits) -> Outcome:
    hot = _scalds(asked.role, facts, limits)
    if not is_new(asked.part) and not hot:
        return on_site(f"existing: listed to {standard}, {where}")
    names = " or ".join(f"ASSE {number}" for number in wanted)
    keep = "; keep the showers' own valves" if asked.role.house else ""
    name = facts.part_name(asked.part.id)
    return broken(
        f"{capital(name)} is {'listed to nothing' if standard == NONE else f'listed to {standard}'} and stands {where}.",
        "hazard" if hot else "correction",
        limit=limits.of(SCALD if hot else ROLE),
        found="no listing" if standard == NONE else standard,
        needed=names,
        mend=f"Use a valve listed to {names} there{keep}.",
        caution=f"Water of {hot} is held back by it alone." if hot else "",
    )


def _scalds(role: "Role", facts: Facts, limits: Limits) -> str:
    """The heater's setting where it scalds and nothing else holds it back from a shower or tub behind the valve."""
    bare = [p for p in role.fixtures if p.is_ in TUBS_AND_SHOWERS and _says_bare(p)]
    heater = facts.plan.parts[role.heater].own if role.heater is not None else None
    said = heater.set if isinstance(heater, HeaterOwn | MixingOwn) else None
    over = isinstance(said, Quantity) and said.si > limits.of(SCALD).number + GRACE_TEMPERATURE_C
    return said.text if bare and over and isinstance(said, Quantity) else ""


def _says_bare(part: Part) -> bool:
    """Whether the plan says that a fixture has no valve that holds its temperature."""
    mixer = part.own.mixer if isinstance(part.own, FixtureOwn) else None
    return mixer == NONE or (isinstance(mixer, Mixer) and mixer.kind in ("two handle", "single handle"))


def _back(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    back = asked.back
    assert back is not None
    if back.heater and back.valve:
        return holds("it comes back to the heater and to the valve's cold side")
    if not is_new(asked.part):
        return on_site("existing: see where the return leads")
    missed = f"the cold side of {asked.part.id}" if back.heater else "the heater"
    return broken(
        f"The return behind {facts.part_name(asked.part.id)} does not come to {missed}.",
        "correction",
        limit=limits.of(BACK),
        found=f"not to {missed}",
        needed=_RETURN,
        mend=f"Tee the return and lead it to {missed} too, a check in each branch.",
    )


def _least(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    own, path = asked.own, ("parts", asked.part.id)
    if own.least is None or own.least == NOT_KNOWN:
        raise NotShown((*path, "least"), "the least flow at which it holds its temperature, from its maker")
    if not isinstance(own.least, Quantity):
        return holds("its maker names none")
    rates = [(rate, part) for part in asked.role.fixtures if (rate := _rate(part)) is not None]
    if not rates:
        raise NotShown(("parts", asked.role.fixtures[0].id), "what the fixtures behind it draw")
    rate, part = min(rates, key=lambda one: one[0].si)
    share = _share(asked, part, facts) if rate.si >= own.least.si - GRACE_FLOW_M3S else 1.0
    found_m3s, about = rate.si * share, estimates(rate, own.least)
    if found_m3s >= own.least.si - GRACE_FLOW_M3S:
        return holds(
            f"{facts.part_name(part.id)} alone draws enough", Measured(found_m3s, "flow"), limits.of(LEAST), about
        )
    found, name = facts.quantity(found_m3s, "flow"), facts.part_name(part.id)
    return broken(
        f"{capital(name)} alone draws {found} through {facts.part_name(asked.part.id)}, which holds its temperature "
        f"from {own.least.text} on.",
        "advice",
        limit=limits.of(LEAST),
        found=found,
        needed=f"at least {own.least.text}",
        mend=f"Use a valve with a least flow of {found} or less.",
        estimate=about,
    )


def _rate(part: Part) -> Quantity | None:
    own = part.own
    said = (own.head if part.is_ in _SHOWERS else own.faucet) if isinstance(own, FixtureOwn) else None
    return said if isinstance(said, Quantity) else None


def _share(asked: Asked, part: Part, facts: Facts) -> float:
    """The share of a draw that comes through the valve, where the fixture mixes cold to it."""
    from plancheck.hot.heater import MIXED_C
    from plancheck.hot.mixing import hot_share

    if f"{part.id}/cold" not in facts.network.outlets or not asked.role.house:
        return 1.0
    cold, hot = facts.plan.water.coldest, asked.own.set
    if not isinstance(hot, Quantity):
        raise NotShown(("parts", asked.part.id, "set"), "the temperature the mixing valve is set to")
    if not isinstance(cold, Quantity):
        raise NotShown(("water", "coldest"), "the coldest water of the year")
    return hot_share(MIXED_C, cold.si, hot.si)
