"""No water where it can freeze

Looks at: each new run where it goes through a cold place (outside wall, attic, crawl space, outdoors above ground, or any place
    said to freeze), and how it is guarded there; and each hose outlet in such a place: a stem that ends on the warm side, or
    a valve with a bleed on the warm side that empties it. A heated or sealed crawl space says `freezes: false` once.
Why: ice takes a tenth more room than water and finds the fitting, not the tube. It lets go when it thaws, with nobody home.
    PEX often outlives a freeze; its joints, valves and the stop behind it do not, so it is no guard.
To mend: keep the pipe on the warm side of the insulation, or run it through the floor below; else heat cable and insulation
    together. Hose outlets: a frost-proof stem that reaches into warm room, sloping out, or a valve with a bleed inside.
Cannot see: wind that blows past a pipe, how the stem slopes, a hose left on in winter (which keeps a frost-proof stem full).
Ask: some states bar stop-and-waste valves; where it hardly freezes the city says whether insulation alone will do.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    FixtureOwn,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Path,
    Place,
    Rule,
    Run,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

_GUARDED = "guarded by insulation, heat or both where it can freeze"
_STEM = "frost-proof, ending in heated room, or with a valve and a bleed inside"
PIPE = Limit(
    "pipe",
    "pipe where it can freeze",
    "text",
    "",
    irc=(Value(_GUARDED, recalled("IRC", "2018", "P2603.5")),),
    ipc=(Value(_GUARDED, recalled("IPC", "2018", "305.4")),),
    upc=(Value(_GUARDED, printed("UPC", "", "312.6")),),
    practice=(Value(_GUARDED, printed("UPC", "", "312.6"), practice=True),),
)
HOSE = Limit(
    "hose",
    "hose outlets where it freezes",
    "text",
    "",
    irc=(Value(_STEM, printed("IRC", "", "P2903.10")),),
    ipc=(Value(_STEM, recalled("IPC", "2018", "305.4")),),
    upc=(Value(_STEM, printed("UPC as one state has it", "", "603")),),
    practice=(Value(_STEM, printed("IRC", "", "P2903.10"), practice=True),),
)
RULE = Rule("correction", "layout", (PIPE, HOSE))

_COLD = ("outside wall", "attic", "crawl space", "outdoors")
_GUARDS = ("warm side", "heat cable", "drained")


class Inner(NamedTuple):
    """Where the water of a hose outlet comes from: its run, the place on that side, the key that would tell it."""

    run: Run | None
    place: str | None
    key: Path


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each new run once for each cold place; then the hose outlets in cold places."""
    plan = facts.plan
    cold = {id_: place for id_, place in plan.places.items() if _may_freeze(place)}
    hoses = {part.id: part for part in plan.parts.values() if part.is_ == "hose outlet" and part.work != "removed"}
    for run in plan.runs.values() if cold else ():
        if run.work in ("existing", "removed") or run.from_ is None:
            continue
        for id_ in _through(run, facts, hoses):
            if id_ in cold:
                yield Subject(("runs", run.id), f"{run.id} in {cold[id_].title}", id_, (run, cold[id_]))
    for part in hoses.values():
        if part.place not in plan.places or part.place in cold:
            yield Subject(("parts", part.id), facts.part_name(part.id), part.place, part)


def _may_freeze(place: Place) -> bool:
    if place.is_ in ("ground", "slab"):
        return False
    return place.is_ in _COLD or place.freezes in (True, NOT_KNOWN)


def _through(run: Run, facts: Facts, hoses: dict[str, Part]) -> tuple[str, ...]:
    """The places a run is in; the end at a hose outlet is that outlet's question, and what is covered lies in the ground."""
    if run.places is not None:
        places = run.places
    else:
        ends = [facts.plan.parts[ref.part] for ref in (run.from_, run.to) if ref is not None]
        places = tuple(dict.fromkeys(p.place for p in ends if p.place and p.id not in hoses and p.is_ != "source"))
    known = tuple(id_ for id_ in places if id_ in facts.plan.places)
    if isinstance(run.cover, Length):
        return tuple(id_ for id_ in known if facts.plan.places[id_].is_ != "outdoors")
    return known


def _freezes(place: Place) -> bool | None:
    """Whether water freezes there; None where the plan does not tell."""
    if isinstance(place.freezes, bool):
        return place.freezes
    if place.is_ == "outdoors" and place.freezes is None:
        return None if place.frost in (None, NOT_KNOWN) else isinstance(place.frost, Length) and place.frost.m > 0
    return None if place.is_ in _COLD or place.freezes == NOT_KNOWN else False


def _asked(place: Place) -> NotShown:
    key = "frost" if place.is_ == "outdoors" else "freezes"
    return NotShown(("places", place.id, key), f"whether it freezes in {place.title} ({key})")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a run is guarded in a cold place, or a hose outlet empties."""
    if isinstance(subject.thing, Part):
        return _hose(subject.thing, facts, limits)
    run, place = subject.thing
    return _run(run, place, facts, limits)


def _run(run: Run, place: Place, facts: Facts, limits: Limits) -> Outcome:
    freezes = _freezes(place)
    if freezes is False:
        return holds(f"it does not freeze in {place.title}")
    if run.guard in _GUARDS:
        return holds(f"guarded: {run.guard}")
    if freezes is None:
        raise _asked(place)
    bare = run.insulation in (None, NONE, NOT_KNOWN)
    if run.guard == NOT_KNOWN or (run.guard is None and run.insulation in (None, NOT_KNOWN)):
        raise NotShown(("runs", run.id, "guard"), f"what keeps it from freezing in {place.title} (guard)")
    found = "nothing to guard it" if bare else f"{run.insulation} of insulation and no heat"
    water = facts.carried(run.id).service or "water"
    return broken(
        f"{run.id} carries {water} through {place.title}, which freezes, with {found}.",
        "correction" if bare else "advice",
        limit=limits.of(PIPE),
        found=found,
        needed="the warm side of the insulation, heat cable, or drained in winter",
        why="" if bare else "Insulation slows the cold and does not stop it: pipe that stands still a night freezes.",
        mend="Run it on the warm side of the insulation or through the floor below; else lay heat cable under "
        "the insulation.",
    )


def _hose(part: Part, facts: Facts, limits: Limits) -> Outcome:
    if not is_new(part):
        return on_site("old hose outlet: see whether its stem reaches into warm room, and that it slopes out")
    place = facts.plan.places.get(part.place or "")
    if place is None:
        raise NotShown(("parts", part.id, "place"), "where the hose outlet is")
    freezes = _freezes(place)
    if freezes is False:
        return holds(f"it does not freeze in {place.title}")
    valve = _emptied_by(part, facts)
    if valve is not None:
        return holds(f"shut and drained at {facts.part_name(valve)}")
    stem = part.own.stem if isinstance(part.own, FixtureOwn) else None
    if isinstance(stem, Length):
        return _stem_ends(part, place, freezes, facts, limits)
    if freezes is None:
        raise _asked(place)
    if stem != NONE:
        raise NotShown(("parts", part.id, "stem"), "how long its stem is (stem: 12 in, or none)")
    return _will_freeze(
        part, f"stands in {place.title}, which freezes, with water up to its handle", "no stem", limits, None
    )


def _stem_ends(part: Part, place: Place, freezes: bool | None, facts: Facts, limits: Limits) -> Outcome:
    inner = _inner(part, facts)
    warm = facts.plan.places.get(inner.place or "")
    if warm is None:
        raise NotShown(inner.key, "the place its water comes from, on the warm side")
    there = _freezes(warm)
    if there is False:
        return holds(f"its stem ends in {warm.title}; on site: that it slopes out, and the hose comes off in winter")
    run = inner.run
    if run is not None and run.guard in _GUARDS:
        return holds(f"guarded: {run.guard}")
    if freezes is None:
        raise _asked(place)
    if there is None:
        raise _asked(warm)
    if run is not None and (run.guard == NOT_KNOWN or (run.guard is None and run.insulation in (None, NOT_KNOWN))):
        raise NotShown(("runs", run.id, "guard"), f"what keeps {run.id} from freezing in {warm.title} (guard)")
    cause: Path | None = ("runs", run.id) if run is not None and is_new(run) else None
    return _will_freeze(part, f"has its stem end in {warm.title}, which freezes too", "no warm side", limits, cause)


def _will_freeze(part: Part, says: str, found: str, limits: Limits, cause: Path | None) -> Outcome:
    return broken(
        f"{part.name or part.id} {says}.",
        "correction",
        limit=limits.of(HOSE),
        found=found,
        needed="a frost-proof stem that ends in heated room, or a valve with a bleed there",
        mend="Fit a frost-proof outlet long enough to close in the warm room, sloping out; or a valve with a bleed inside.",
        ask="Some states bar stop-and-waste valves.",
        cause=cause,
    )


def _inner(part: Part, facts: Facts) -> Inner:
    """The side the water comes from: the nearest place of its run, else that of what it is made up to."""
    plan = facts.plan
    for run in plan.runs.values():
        for near, far in ((run.to, run.from_), (run.from_, run.to)):
            if near is None or far is None or near.part != part.id or run.work == "removed":
                continue
            if run.places:
                inside = [id_ for id_ in run.places if id_ != part.place] or list(run.places)
                return Inner(run, inside[-1 if near is run.to else 0], ("runs", run.id, "places"))
            return Inner(run, plan.parts[far.part].place, ("runs", run.id, "places"))
    base = plan.parts[part.onto.part] if part.onto is not None else None
    return Inner(
        None, base.place if base is not None else None, ("parts", base.id if base is not None else part.id, "place")
    )


def _emptied_by(part: Part, facts: Facts) -> str | None:
    """A valve with a bleed in a place that does not freeze, which shuts nothing but hose outlets; or None."""
    from plancheck.draining import hose_valves

    places = facts.plan.places
    for valve in hose_valves(part, facts):
        if valve.place in places and _freezes(places[valve.place or ""]) is False:
            return valve.id
    return None
