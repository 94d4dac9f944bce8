"""Papers and site are ready for the inspector

Looks at: whether the plan names its permit and the code it is built by; and, for a person to see: the papers on the job, the
    open work with each crawl space and attic of it, the room round each new toilet, bidet and lavatory and the wood behind
    it, and at the end the flushing of new pipe.
Why: without the card, the plan or somebody to run the test nothing is looked at, and the next visit costs a fee. What is
    closed in is opened again. Cuttings and flux in new pipe end in the first faucet.
To mend: put number and code into the plan, the approved plan on the job; leave all open; run every outlet clear with its
    aerator off.
Cannot see: what the card says, what is covered, how far a bowl is from the wall, how clear the water runs. A record of
    flushing (a claim that speaks of it) is named as a claim, never counted as done.
Ask: the office whether a re-pipe needs plans, and whether new pipe is to be disinfected and a sample taken: several want it.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    on_site,
    recalled,
)

_IN = 0.0254
_FIRST = "a permit before work begins"
PERMIT = Limit(
    "permit",
    "permit for the work",
    "text",
    "",
    irc=(Value(_FIRST, recalled("IRC", "2021", "R105.1")),),
    ipc=(Value(_FIRST, recalled("IPC", "2021", "105.1")),),
    upc=(Value(_FIRST, recalled("UPC", "2021", "104.1")),),
    practice=(Value(_FIRST, recalled("IRC", "2021", "R105.1"), practice=True),),
)
BESIDE = Limit(
    "beside",
    "from the middle of a toilet to what stands beside it",
    "length",
    "at least",
    irc=(Value(15 * _IN, recalled("IRC", "2021", "P2705.1")),),
    ipc=(Value(15 * _IN, recalled("IPC", "2021", "405.3.1")),),
    upc=(Value(15 * _IN, recalled("UPC", "2021", "402.5")),),
    practice=(Value(15 * _IN, recalled("IRC", "2021", "P2705.1"), practice=True),),
)
BEFORE = Limit(
    "before",
    "clear space before a toilet",
    "length",
    "at least",
    irc=(Value(21 * _IN, recalled("IRC", "2021", "P2705.1")),),
    ipc=(Value(21 * _IN, recalled("IPC", "2021", "405.3.1")),),
    upc=(Value(24 * _IN, recalled("UPC", "2021", "402.5")),),
    practice=(Value(21 * _IN, recalled("IRC", "2021", "P2705.1"), practice=True),),
)
RULE = Rule("correction", "layout", (PERMIT, BESIDE, BEFORE))

_ROOMY = ("toilet", "bidet", "lavatory")
_TIGHT = ("crawl space", "attic")


def subjects(facts: Facts) -> Iterator[Subject]:
    """Permit and code; papers, open work, tight places and rooms with new fixtures; flushing. None without new work."""
    new = [run for run in facts.plan.runs.values() if is_new(run)]
    if not new:
        return
    yield Subject(_permit_path(facts), "the permit", None, "permit")
    yield Subject(("code",), "the code of the job", None, "code")
    yield Subject(("job",), "the papers on the job", None, "papers", "rough-in")
    if facts.stage != "finished":
        yield Subject(("job",), "the open work", None, "open", "rough-in")
        for id_ in dict.fromkeys(place for run in new for place in run.places or () if place in facts.plan.places):
            if facts.plan.places[id_].is_ in _TIGHT:
                yield Subject(("places", id_), facts.place_name(id_), id_, "way in", "rough-in")
    parts = (part for part in facts.plan.parts.values() if part.is_ in _ROOMY and is_new(part))
    for room in dict.fromkeys(part.place for part in parts if part.place is not None):
        yield Subject(("places", room), "room round the fixtures", room, "room", "rough-in")
    yield Subject(("claims",), "flushing of the new pipe", None, "flush", "finished")


def _permit_path(facts: Facts) -> Path:
    return ("permit", "number") if facts.plan.permit is not None else ("permit",)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether permit and code are named; the rest is for a person."""
    asks: str = subject.thing
    if asks == "permit":
        return _permit(subject.path, facts, limits)
    if asks == "code":
        return _code(facts)
    if asks == "papers":
        return on_site(
            "address in sight from the street, permit card up, approved plan and sizing on the job; scope, contractor and "
            "licence as the permit has them"
        )
    if asks == "room":
        beside, before = (facts.length(limits.of(one).number) for one in (BESIDE, BEFORE))
        return on_site(
            f"{beside} from the middle of a toilet or bidet to a wall or the next fixture, {before} clear before it; wood in "
            "the wall behind what hangs on it"
        )
    if asks == "flush":
        return on_site(f"run each outlet clear, aerators off; disinfect where the office asks for it{_claimed(facts)}")
    return on_site(
        "nothing covered, light there, somebody to run the test" if asks == "open" else "a way in, a ladder, light"
    )


def _permit(path: Path, facts: Facts, limits: Limits) -> Outcome:
    permit = facts.plan.permit
    number = permit.number if permit is not None else None
    if facts.source.data.get("permit") == NONE:
        number = NONE
    if number is None or number == NOT_KNOWN:
        raise NotShown(("permit", "number"), "the number of the permit")
    if number != NONE:
        return holds(f"permit {number}")
    return broken(
        "The work has no permit.",
        "correction",
        limit=limits.of(PERMIT),
        found="none",
        needed="a permit before work begins",
        mend="Take out the permit before any tube is cut, or have the office say in writing that none is needed.",
        at=path,
    )


def _code(facts: Facts) -> Outcome:
    if facts.family is None:
        raise NotShown(("code", "family"), "the code the job is built under (irc, ipc or upc)")
    if facts.edition is None:
        raise NotShown(("code", "edition"), "the year of the code's edition")
    return holds(f"{facts.family.upper()} {facts.edition}")


def _claimed(facts: Facts) -> str:
    """The claims that speak of it, in words."""
    spoken = [one.id for one in facts.plan.claims.values() if one.says and "flush" in one.says.casefold()]
    return f"; claimed in {', '.join(spoken)}" if spoken else ""
