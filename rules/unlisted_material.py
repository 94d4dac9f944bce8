"""Nothing new in a material the code no longer takes

Looks at: each stock of pipe that new work uses, once for each use it is put to (in the ground, inside, hot, under a slab);
    existing lead, polybutylene and galvanised steel; and each place where new tube is joined to polybutylene. By the
    material written in the plan, never by colour: grey or blue tube with a PEX print is no polybutylene.
Why: polybutylene splits at its fittings after years of chlorine, PVC and PE go soft with hot water, lead poisons, galvanised
    steel rusts shut from inside and starves the new pipe behind it.
To mend: PEX, PE-RT, copper or CPVC inside; PE and PVC in the ground alone, over to other pipe right behind the wall.
Cannot see: what the pipe in the wall really is. Scratch it, read its print, hold a magnet to it.
Ask: where the service changes over, and whether the city bars a material that the model code takes.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    FOOT_M,
    GRACE_LENGTH_M,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Run,
    Subject,
    Value,
    at_most,
    broken,
    holds,
    is_new,
    length,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.stocks import Used

_LIST = "copper, CPVC, PEX, PEX-AL-PEX, PE-RT, PP, stainless or galvanised steel, ductile iron"
_PRINT = printed("IPC", "", "Table 605.4")
LISTED = Limit(
    "listed",
    "materials for water pipe inside, hot and cold",
    "text",
    "",
    irc=(Value(_LIST, recalled("IRC", "2018", "Table P2906.5")),),
    ipc=(Value(_LIST, _PRINT),),
    upc=(Value(_LIST, recalled("UPC", "2018", "Table 604.1")),),
    practice=(Value(_LIST, _PRINT, practice=True),),
)
SERVICE_INSIDE = Limit(
    "service_inside",
    "how far a service of PE or PVC may come into the house",
    "length",
    "at most",
    irc=(Value(5 * FOOT_M, recalled("IRC", "2018", "P2906.4"), practice=True),),
    ipc=(Value(5 * FOOT_M, recalled("IPC", "2018", "605.3"), practice=True),),
    practice=(Value(5 * FOOT_M, recalled("IPC", "2018", "605.3"), practice=True),),
)
LEAD = Limit(
    "lead", "lead pipe", "text", "", practice=(Value("no lead pipe on drinking water", PRACTICE, practice=True),)
)
THIN = Limit(
    "thin",
    "thinnest copper under a slab",
    "text",
    "",
    upc=(Value("type L or K", printed("UPC, one city's copy", "1997", "604.2"), practice=True),),
)
RUST = Limit(
    "rust", "steel pipe", "text", "", practice=(Value("pipe that does not rust shut", PRACTICE, practice=True),)
)
RULE = Rule("hazard", "layout", (LISTED, SERVICE_INSIDE, LEAD, THIN, RUST))

_COLD_ONLY = ("PE", "PVC")
_FIT = ("a material that the code lists", "Use PEX, PE-RT, copper or CPVC.")


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stock by its uses, old pipe of the bad materials, and joints to polybutylene."""
    from plancheck.stocks import used_stocks

    for used in used_stocks(facts):
        id_ = used.tube.id
        yield Subject(("tubes", id_), f"'{id_}' {used.use}", facts.run_place(used.runs[0].id), used)
    if any(tube.material == "polybutylene" for tube in facts.plan.tubes.values()):
        from plancheck.uses import transitions

        for new, old, part in transitions(facts):
            name = f"{new.id} joined to {old.id}"
            yield Subject(("parts", part), name, facts.plan.parts[part].place, (new, old, part))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a material may be used so, may stay, or is joined as it has to be."""
    if subject.path[0] == "parts":
        return _joined(subject.thing, facts, limits)
    used: Used = subject.thing
    material = used.tube.material
    if material in (None, NOT_KNOWN):
        raise NotShown(("tubes", used.tube.id, "material"), "what the tube is made of")
    if material == "lead":
        return _lead(used, facts, limits)
    if material == "polybutylene":
        return _polybutylene(used, limits)
    if material == "galvanised steel":
        return _galvanised(used, facts, limits)
    if material in _COLD_ONLY:
        return _cold_only(used, facts, limits)
    return _copper(used, limits) if used.use == "under a slab" else holds(f"{material} {used.use}")


def _told(
    used: "Used", says: str, severity: str, limit: InForce | None, needed: str, mend: str, why: str = ""
) -> Outcome:
    material = used.tube.material or ""
    return broken(
        says,
        severity,
        measured=Measured(material, "text"),
        limit=limit,
        found=f"{material} {used.use}",
        needed=needed,
        why=why,
        mend=mend,
        at=("tubes", used.tube.id, "material"),
    )


def _lead(used: "Used", facts: Facts, limits: Limits) -> Outcome:
    if all(facts.carried(run.id).service == "not potable" for run in used.runs):
        return on_site("lead pipe, not on drinking water: see that nothing is drawn from it")
    says = f"'{used.tube.id}' is lead pipe and carries drinking water: {used.named}."
    mend = "Take it out, from the main on; until then draw no water for drinking or cooking from it."
    told = _told(used, says, "hazard", limits.of(LEAD), "no lead", mend, "Lead goes into the water that stands in it.")
    return told._replace(
        caution="The health office says where water is tested for lead; ask the water company about its side."
    )


def _polybutylene(used: "Used", limits: Limits) -> Outcome:
    limit = limits.of(LISTED)
    if not used.old:
        says = f"'{used.tube.id}' is polybutylene, which no code takes any more: {used.named}."
        return _told(used, says, "correction", limit, *_FIT)
    says = f"Old polybutylene stays in use: {used.named}."
    mend = (
        "Replace it while the walls are open; it may stay by code, joined by a transition made for it and nothing else."
    )
    return _told(used, says, "advice", limit, "pipe that lasts", mend)


def _galvanised(used: "Used", facts: Facts, limits: Limits) -> Outcome:
    if used.old and not any(is_new(run) for run in facts.plan.runs.values()):
        return on_site(f"old galvanised steel ({used.named}): look into it where it is open")
    state = "Old galvanised steel stays ahead of or beside new pipe" if used.old else "New galvanised steel is laid"
    mend = "Replace it with copper, PEX or, in the ground, PE; a service first, it feeds all the rest."
    return _told(
        used, f"{state}: {used.named}.", "advice", limits.of(RUST), "pipe that does not rust; it is allowed", mend
    )


def _cold_only(used: "Used", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.uses import ENTERS, GROUND, HOT, UNDER_SLAB, follows_service

    material = used.tube.material
    if used.use == HOT:
        says = f"'{used.tube.id}' is {material} and carries hot water: {used.named}."
        return _told(
            used, says, "correction", limits.of(LISTED), "pipe for 100 psi at 180 degF (690 kPa at 82 degC)", _FIT[1]
        )
    if used.use in (GROUND, UNDER_SLAB):
        return holds(f"{material} {used.use}")
    if used.use == ENTERS or all(follows_service(run, facts) for run in used.runs):
        return _comes_in(used, facts, limits)
    says = f"'{used.tube.id}' is {material}, which is for the ground, and is used inside: {used.named}."
    return _told(used, says, "correction", limits.of(LISTED), *_FIT)


def _comes_in(used: "Used", facts: Facts, limits: Limits) -> Outcome:
    """The longest stretch inside of the end of a service of PE or PVC."""
    from plancheck.uses import inside_of

    limit: InForce = limits.of(SERVICE_INSIDE)
    most_m = limit.number
    found = [(inside_of(run, facts), run) for run in used.runs]
    known = [(one.m, one.about, run) for one, run in found if one.m is not None]
    m, about, run = max(known, key=lambda one: one[0]) if known else (0.0, "", used.runs[0])
    missing = next((one.key for one, _ in found if one.m is None), None)
    if at_most(m, most_m, GRACE_LENGTH_M):
        if missing is not None:
            raise NotShown(missing, f"how far the {used.tube.material} goes on inside the house")
        return holds("", length(m), limit, about)
    return broken(
        f"{run.id} is {used.tube.material} and goes on {facts.length(m)} inside the house; at most {facts.length(most_m)}.",
        "advice",
        measured=length(m),
        limit=limit,
        mend=f"Go over to PEX, copper or CPVC within {facts.length(most_m)} of the wall.",
        at=("runs", run.id),
        estimate=about,
    )


def _copper(used: "Used", limits: Limits) -> Outcome:
    limit = limits.maybe(THIN)
    letter = (used.tube.type or "").upper().removeprefix("TYPE ").strip()
    if limit is None or letter in ("K", "L"):
        return holds("copper under a slab")
    if letter != "M":
        raise NotShown(("tubes", used.tube.id, "type"), "which type of copper it is (K, L or M)")
    says = f"'{used.tube.id}' is copper type M and lies under a slab: {used.named}."
    return _told(
        used, says, "advice", limit, "type L or K", "Use soft copper of type L or K there, or PEX in one piece."
    )


def _joined(thing: tuple[Run, Run, str], facts: Facts, limits: Limits) -> Outcome:
    new, old, part = thing
    between = facts.plan.parts[part]
    kind = getattr(between.own, "kind", None) if between.is_ == "adapter" else None
    if between.work == "existing" or between.is_ not in ("adapter", "tee"):
        return on_site(
            f"{facts.part_name(part)} stands between {new.id} and polybutylene: its end there is to be made for it"
        )
    if kind == "transition":
        return holds("a transition made for it")
    if between.is_ == "adapter" and kind in (None, NOT_KNOWN):
        raise NotShown(("parts", part, "kind"), "whether the adapter is made for polybutylene (kind: transition)")
    return broken(
        f"{new.id} is joined to the polybutylene of {old.id} by {kind or 'a tee'}.",
        "correction",
        measured=Measured(kind or between.is_, "text"),
        limit=limits.of(LISTED),
        found=f"joined by {kind or 'a tee'}",
        needed="a transition made for polybutylene and the new tube",
        why="Polybutylene has another wall and bore: the rings and inserts of PEX do not seal in it.",
        mend="Put a transition made for polybutylene between, and tee off in the new tube.",
        at=("parts", part),
    )
