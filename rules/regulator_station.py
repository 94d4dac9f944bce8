"""The regulator can be set, read, cleaned and reached

Looks at: each pressure regulator: what it is set to against the house and the street; whether a gauge goes on before and behind
    it; its strainer; how one gets at it and whether it freezes there; and outlets that are taken off ahead of it. One that
    feeds an irrigation line alone is not judged by the house's pressure.
Why: a regulator wears and creeps. Without gauges on both sides nobody knows which; without a strainer a grain of sand holds it
    open; boarded over or frozen it fails where nobody looks, and every hose in the house has the street on it.
To mend: set it to 55 to 60 psi, ten below the street at least; give it a gauge port on both sides; keep it within reach, warm.
Cannot see: creep over night (leave a gauge on), dirt on the seat, the maker's least difference.
Ask: the IPC lets hose outlets stand ahead of it; the UPC wants every outlet of the building behind it unless the authority agrees.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_PRESSURE_PA,
    NONE,
    NOT_KNOWN,
    PSI_PA,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Quantity,
    Rule,
    Size,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    gauges_of,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.regulators import Station

_80 = 80 * PSI_PA
HIGHEST = Limit(
    "highest",
    "standing pressure in the house",
    "pressure",
    "at most",
    irc=(Value(_80, printed("IRC", "2015", "P2903.3.1")), Value(_80, printed("IRC", "2018", "P2903.3.2"), since=2018)),
    ipc=(Value(_80, printed("IPC", "2015", "604.8")),),
    upc=(Value(_80, printed("UPC", "2015", "608.2")),),
    practice=(Value(_80, printed("IRC, IPC and UPC", "", "P2903.3.1, 604.8, 608.2"), practice=True),),
)
MARGIN = Limit(
    "margin",
    "setting of a regulator below the street",
    "pressure",
    "at least",
    practice=(Value(10 * PSI_PA, recalled("trade practice", "", "regulators"), practice=True),),
)
_CLEAN, _BEHIND, _REACHED = (
    "a strainer before the regulator",
    "outlets of the building behind the regulator",
    "reached, and out of the frost",
)


def _upc(id_: str, title: str, words: str) -> Limit:
    source = printed("UPC", "2015", "608.2")
    return Limit(id_, title, "text", "", upc=(Value(words, source),), practice=(Value(words, source, practice=True),))


STRAINER = _upc("strainer", "strainer of a regulator under 1-1/2 in", _CLEAN)
REACHED = _upc("reached", "where a regulator is", _REACHED)
BEHIND = Limit(
    "behind",
    "outlets where the street has over 80 psi",
    "text",
    "",
    irc=(Value(_BEHIND, printed("IRC", "2015", "P2903.3.1")),),
    ipc=(Value(_BEHIND, recalled("IPC", "2015", "604.8 (hose outlets exempt)")),),
    upc=(Value(_BEHIND, printed("UPC", "2015", "608.2")),),
    practice=(Value(_BEHIND, printed("UPC", "2015", "608.2"), practice=True),),
)
RULE = Rule("correction", "layout", (HIGHEST, MARGIN, STRAINER, REACHED, BEHIND))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Five questions for each regulator; two less for one that feeds an irrigation line alone."""
    from plancheck.regulators import stations

    for one in stations(facts):
        part, house = one.part, one.house
        path: Path = ("parts", part.id)
        name = facts.part_name(part.id)
        yield Subject((*path, "set"), f"setting of {name}", part.place, (_set, one))
        if house:
            yield Subject((*path, "gauge_ports"), f"gauge points at {name}", part.place, (_gauges, one))
        yield Subject((*path, "strainer"), f"strainer of {name}", part.place, (_strainer, one))
        yield Subject((*path, "reach"), f"reach of {name}", part.place, (_reach, one), "rough-in")
        if house:
            yield Subject(path, f"outlets ahead of {name}", part.place, (_ahead, one))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question on one regulator."""
    judge, one = subject.thing
    outcome: Outcome = judge(one, facts, limits)
    return outcome


def _set(one: "Station", facts: Facts, limits: Limits) -> Outcome:
    said = one.own.set
    if not isinstance(said, Quantity):
        raise NotShown(("parts", one.part.id, "set"), "what it is set to (set: 58 psi)")
    highest, margin = limits.of(HIGHEST), limits.of(MARGIN)
    name = facts.part_name(one.part.id)
    measured, path = Measured(said.si, "pressure"), ("parts", one.part.id, "set")
    if one.house and said.si > highest.number + GRACE_PRESSURE_PA:
        return broken(
            f"{capital(name)} is set to {said.text}; at most {facts.quantity(highest.number, 'pressure')}.",
            "correction",
            measured=measured,
            limit=highest,
            mend=f"Set it to about {facts.quantity(58 * PSI_PA, 'pressure')}, and charge the expansion tank to the same.",
            cause=path,
            estimate=estimates(said),
        )
    street = facts.standing.zones[one.ahead] if one.ahead is not None else None
    if street is None or street.pressure_pa is None:
        raise NotShown(
            street.missing or ("water", "static") if street else ("water", "static"), "the street's pressure"
        )
    from plancheck.standing import height_of

    street_pa = street.at_height(height_of(facts, one.part.id)) or street.pressure_pa
    if said.si > street_pa - margin.number + GRACE_PRESSURE_PA:
        return broken(
            f"{capital(name)} is set to {said.text} on a street of {facts.quantity(street_pa, 'pressure')}: it will hardly control.",
            "advice",
            measured=measured,
            limit=margin,
            found=f"{facts.quantity(max(street_pa - said.si, 0.0), 'pressure')} below the street",
            needed=f"at least {facts.quantity(margin.number, 'pressure')} below the street",
            mend=f"Read the street at night; below about {facts.quantity(70 * PSI_PA, 'pressure')} it may not be needed at all, else set "
            f"it to {facts.quantity(street_pa - margin.number, 'pressure')} or less.",
            estimate=estimates(said) or street.about,
        )
    return holds("", measured, highest, ", ".join(filter(None, (estimates(said), street.about))))


def _gauges(one: "Station", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.regulators import sides_without_gauge

    ports, missing = one.own.gauge_ports, sides_without_gauge(one, facts)
    if not missing:
        return holds("a gauge goes on before and behind it")
    if ports is None or ports == NOT_KNOWN:
        raise NotShown(
            ("parts", one.part.id, "gauge_ports"), "whether it takes a gauge itself (gauge_ports: both, none)"
        )
    where = " and ".join("before" if side == "in" else "behind" for side in missing)
    return broken(
        f"No gauge goes on {where} {facts.part_name(one.part.id)}.",
        "advice",
        found=f"none {where} it",
        needed="a gauge connection before and behind it",
        mend=f"Use a regulator with gauge ports, or put a tee with a test port {where} it.",
        cause=("parts",) if missing == ["out"] and not any(gauges_of(facts)) else None,
    )


def _strainer(one: "Station", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.regulators import filter_ahead

    said, size = one.own.strainer, one.part.size
    if isinstance(size, Size) and size.rank >= 1.5:
        return holds("of 1-1/2 in and more: none is asked")
    if said in ("built in", "before") or filter_ahead(one, facts):
        return holds("a strainer before it")
    if not is_new(one.part):
        return on_site("old regulator: see whether its strainer is clean")
    if said == NONE:
        return broken(
            f"{capital(facts.part_name(one.part.id))} has no strainer.",
            "correction",
            limit=limits.of(STRAINER),
            found="none",
            needed="a strainer, built in or before it",
            mend="Use a regulator with a strainer built in, or set one before it that can be opened.",
        )
    if facts.family == "upc":
        raise NotShown(("parts", one.part.id, "strainer"), "its strainer (strainer: built in, before, none)")
    return on_site("look for the strainer: most have one built in")


def _reach(one: "Station", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.regulators import place_fault

    if not is_new(one.part):
        return on_site("old regulator: see whether one gets at its screw and its strainer")
    fault = place_fault(one.part, facts)
    return holds("within reach") if fault is None else _bad_place(one, fault, facts, limits)


def _bad_place(one: "Station", says: str, facts: Facts, limits: Limits) -> Outcome:
    return broken(
        f"{capital(facts.part_name(one.part.id))} {says}.",
        "correction" if facts.family == "upc" else "advice",
        limit=limits.of(REACHED),
        found=says.removeprefix("is "),
        needed="within reach, above ground, where it does not freeze",
        mend="Move it indoors next to the main valve, or give it a panel; out of frost or insulated and heated.",
    )


def _ahead(one: "Station", facts: Facts, limits: Limits) -> Outcome:
    zone_of, parts = facts.standing.zone_of, facts.plan.parts
    names = dict.fromkeys(
        s.partition("/")[0] for s, tap in facts.network.outlets.items() if zone_of.get(tap) == one.ahead
    )
    judged = [name for name in names if facts.family != "ipc" or parts[name].is_ != "hose outlet"]
    if not judged or one.ahead is None:
        return holds("none is taken off ahead of it" if not names else "hose outlets may stand ahead of it")
    street, highest = facts.standing.zones[one.ahead], limits.of(HIGHEST)
    if street.pressure_pa is None:
        raise NotShown(
            street.missing or ("water", "static"), "the street's pressure, on outlets ahead of the regulator"
        )
    if street.pressure_pa <= highest.number + GRACE_PRESSURE_PA:
        return holds("", Measured(street.pressure_pa, "pressure"), highest, street.about)
    shown = ", ".join(facts.part_name(name) for name in judged[:4])
    many = "stands" if len(judged) == 1 else "stand"
    return broken(
        f"{capital(shown)} {many} ahead of {facts.part_name(one.part.id)}, on {facts.quantity(street.pressure_pa, 'pressure')}.",
        "correction" if facts.family == "upc" else "advice",
        measured=Measured(street.pressure_pa, "pressure"),
        limit=limits.of(BEHIND),
        found=f"{len(judged)} ahead of it",
        needed=f"every outlet behind it where the street has over {facts.quantity(highest.number, 'pressure')}",
        mend=f"Take {shown} off behind the regulator.",
        estimate=street.about,
    )
