"""Pipe in the ground is deep enough and can be found again

Looks at: each run that lies in the ground, or that says its cover: the cover against the frost there and the least that the code
    asks; whether new plastic pipe has a wire or tape above it; and the trench, which somebody has to see while it is open.
    Pipe in or under a heated slab is in no frost and is not asked here.
Why: frost goes deeper under a swept drive than in the lawn. Plastic pipe nobody can find is found with a digger.
To mend: dig deeper, or ask about insulation boards over the pipe; lay a wire along it and bring its ends up where they are
    found.
Cannot see: stones in the bedding, tamping in 6 in lifts, the sewer (5 ft away, or on a shelf below the water pipe).
Ask: the frost depth the city goes by; some want far more cover than the model code.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NONE,
    NOT_KNOWN,
    PLASTIC,
    Facts,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Subject,
    Value,
    at_least,
    broken,
    estimates,
    holds,
    is_new,
    length,
    on_site,
    printed,
    recalled,
    tube_of,
)

_IRC, _IPC = printed("IRC", "", "P2603.5"), printed("IPC", "", "305.4")
_UPC = printed("UPC", "", "609.1")
LEAST_COVER = Limit(
    "least_cover",
    "earth over pipe in the ground",
    "length",
    "at least",
    irc=(Value(12 * INCH_M, _IRC),),
    ipc=(Value(12 * INCH_M, _IPC),),
    upc=(Value(12 * INCH_M, _UPC),),
)
BELOW_FROST = Limit(
    "below_frost",
    "pipe in the ground below the frost",
    "length",
    "at least",
    irc=(Value(6 * INCH_M, _IRC),),
    ipc=(Value(6 * INCH_M, _IPC),),
    upc=(Value(12 * INCH_M, _UPC),),
)
_FOUND = "a wire along it, or a tape above it"
TRACER = Limit(
    "tracer",
    "how plastic pipe in the ground is found again",
    "text",
    "",
    practice=(Value(_FOUND, recalled("local rules, as relayed", "", "tracer wire"), practice=True),),
)
SEWER = Limit(
    "sewer",
    "a service pipe from the sewer, or on a shelf above it",
    "length",
    "at least",
    irc=(Value(60 * INCH_M, printed("IRC", "", "P2906.4.1")),),
    ipc=(Value(60 * INCH_M, printed("IPC", "", "603.2")),),
    practice=(Value(60 * INCH_M, printed("IPC", "", "603.2"), practice=True),),
)
RULE = Rule("correction", "layout", (LEAST_COVER, BELOW_FROST, TRACER, SEWER))

_IN_EARTH = ("ground", "outdoors")


def subjects(facts: Facts) -> Iterator[Subject]:
    """For each buried run its cover; for new plastic what finds it again; for the service the open trench."""
    plan = facts.plan
    ground = {id_ for id_, place in plan.places.items() if place.is_ == "ground"}
    for run in plan.runs.values():
        if run.work == "removed" or not (run.cover is not None or (ground and _lies_in(run, ground, facts))):
            continue
        place = _earth(run, facts)
        yield Subject(("runs", run.id, "cover"), f"cover of {run.id}", place, (run, "cover"))
        tube = tube_of(run, plan)
        if is_new(run) and tube is not None and tube.material in PLASTIC:
            yield Subject(("runs", run.id, "tracer"), f"tracer of {run.id}", place, (run, "tracer"), "rough-in")
        if is_new(run) and run.from_ is not None and plan.parts[run.from_.part].is_ == "source":
            yield Subject(("runs", run.id), f"trench of {run.id}", place, (run, "trench"), "rough-in")


def _lies_in(run: Run, ground: set[str], facts: Facts) -> bool:
    """Whether a run goes through a place in the ground; a source or meter that stands in one does not make it do so."""
    return any(place in ground for place in facts.run_places(run.id))


def _earth(run: Run, facts: Facts) -> str | None:
    """The place outside that a run goes through, the ground before the open; None where it names none."""
    places = facts.run_places(run.id)
    return next((place for kind in _IN_EARTH for place in places if facts.plan.places[place].is_ == kind), None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether buried pipe is deep enough, and can be found."""
    run, asks = subject.thing
    if asks == "trench":
        metric = facts.units.length != "ft-in"
        apart, lifts = ("1.5 m", "150 mm") if metric else (facts.length(limits.of(SEWER).number), "6 in")
        return on_site(
            f"while it is open: no stones round it, tamped in lifts of {lifts}, {apart} from the sewer or on a shelf above"
        )
    if asks == "tracer":
        return _traced(run, limits)
    return (
        _covered(run, facts, limits) if is_new(run) else on_site("it lies there already: how deep, only digging tells")
    )


def _traced(run: Run, limits: Limits) -> Outcome:
    if run.tracer in ("wire", "tape"):
        return holds(f"{run.tracer} along it")
    if run.tracer in (None, NOT_KNOWN):
        raise NotShown(("runs", run.id, "tracer"), "what lets the buried plastic be found again (tracer: wire)")
    return broken(
        f"{run.id} is plastic in the ground with nothing that lets it be found again.",
        "advice",
        measured=Measured("none", "text"),
        limit=limits.of(TRACER),
        found="no tracer",
        needed=_FOUND,
        mend="Lay a blue 12 gauge wire along it before the trench is filled, and bring both ends up.",
    )


def _covered(run: Run, facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(run.cover, Length) and run.cover != NONE:
        raise NotShown(("runs", run.id, "cover"), "the depth of earth over it")
    least, below = limits.of(LEAST_COVER), limits.of(BELOW_FROST)
    cover_m = run.cover.m if isinstance(run.cover, Length) else 0.0
    frost, key = _frost(run, facts)
    frost_m = frost.m if isinstance(frost, Length) else 0.0
    needed_m = max(least.number, frost_m + below.number) if frost_m > 0 else least.number
    about = estimates(run.cover, frost)
    if not at_least(cover_m, needed_m, GRACE_LENGTH_M):
        return _shallow(run, cover_m, needed_m, frost if isinstance(frost, Length) else None, facts, limits)
    if frost is None:
        raise NotShown(key, "how deep the ground freezes (frost: none where it does not)")
    return holds("", length(cover_m), below if needed_m > least.number else least, about)


def _frost(run: Run, facts: Facts) -> tuple[Length | str | None, Path]:
    """The frost where a run lies, else the deepest said of any place outside; None and the key where it is not said."""
    places = facts.plan.places
    own = [id_ for id_ in facts.run_places(run.id) if places[id_].is_ in _IN_EARTH]
    all_ = own or [id_ for id_, place in places.items() if place.is_ in _IN_EARTH]
    said = [places[id_].frost for id_ in all_ if places[id_].frost not in (None, NOT_KNOWN)]
    depths = [one for one in said if isinstance(one, Length)]
    if depths:
        return max(depths, key=lambda one: one.m), ()
    if said:
        return NONE, ()
    return None, ("places", all_[0], "frost") if all_ else ("runs", run.id, "places")


def _shallow(run: Run, cover_m: float, needed_m: float, frost: Length | None, facts: Facts, limits: Limits) -> Outcome:
    by_frost = frost is not None and needed_m > limits.of(LEAST_COVER).number
    limit = limits.of(BELOW_FROST if by_frost else LEAST_COVER)
    found, needed = facts.length(cover_m), facts.length(needed_m)
    if found == needed and isinstance(run.cover, Length):
        found = run.cover.text
    reason = (
        f"frost goes {frost.text if frost.about else facts.length(frost.m)}: " if by_frost and frost is not None else ""
    )
    return broken(
        f"{found if cover_m > 0 else 'No earth'}{' of earth' if cover_m > 0 else ''} lies over {run.id}; {reason}at least {needed}.",
        "correction",
        measured=length(cover_m),
        limit=limit,
        found=f"{found} of cover",
        needed=f"{needed} of cover" + (f", {facts.length(limit.number)} below the frost" if by_frost else ""),
        mend=f"Lay it {facts.length(needed_m - cover_m)} deeper, or ask the authority about insulation boards over the pipe.",
        caution="Have buried gas and power lines marked before anybody digs.",
        estimate=estimates(run.cover, frost),
    )
