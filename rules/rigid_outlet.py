"""What one pulls on does not move

Looks at: each stub-out of a fixture side, each shower head, tub spout, washer box and hose outlet of new work: whether the plan
    says what holds it to the framing (the stub itself, or an anchor: ear, flange, block, straps on both sides).
Why: a hose is pulled, a shower arm is leaned on, a stop is turned with a wrench. What gives is the ring behind the board, some
    hundredth time; and what wobbles cracks its caulk and lets water into the wall.
To mend: copper stub-out ells and drop ear ells screwed to blocking, bend supports with their bracket, a hose outlet's flange
    screwed through the siding into wood.
Cannot see: whether the screws found wood. How far supports are apart is judged elsewhere; toilets' flexible connectors are
    not asked.
Ask: inspectors take hold of every stub-out at the rough-in; the codes only say secured and supported.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    TUBS_AND_SHOWERS,
    Facts,
    FixtureOwn,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Subject,
    Supply,
    Value,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    printed,
)

_HELD = "stub-outs, outlets and heads secured to the framing"
_LISTS = printed("rough-in checklists of several cities", "", "stub-outs")
SECURED = Limit(
    "secured",
    "what holds outlets and stub-outs",
    "text",
    "",
    irc=(Value(_HELD, _LISTS),),
    ipc=(Value(_HELD, _LISTS),),
    upc=(Value(_HELD, _LISTS),),
    practice=(Value(_HELD, _LISTS, practice=True),),
)
RULE = Rule("correction", "rough-in", (SECURED,))

_RIGID = ("copper ell", "drop ear ell", "bend support")
_PULLED = TUBS_AND_SHOWERS | {"hose outlet"}
_NAMES = {
    "hose outlet": "the hose outlet",
    "shower": "the shower head",
    "tub and shower": "shower head and spout",
    "bathtub": "the spout",
    "clothes washer": "the washer box",
}


class Stub(NamedTuple):
    """What is to be rigid: a part, one of its sides or the whole, what is said of it, and the key of its stub-out."""

    part: Part
    what: str
    stub: str | None
    key: Path


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each stub-out that has water, and each outlet one pulls on, once."""
    for part in facts.plan.parts.values():
        own = part.own
        if part.work == "removed" or not isinstance(own, FixtureOwn):
            continue
        path = ("parts", part.id)
        if part.is_ in _NAMES:
            yield _subject(Stub(part, _NAMES[part.is_], _stub(own.supply), (*path, "anchor")), facts)
        if part.is_ in _PULLED or part.is_ == "clothes washer" or part.onto is not None:
            continue
        for side in ("cold", "hot"):
            if facts.network.outlets.get(f"{part.id}/{side}", -1) in facts.traced.parents:
                said, key = _side(own, side)
                yield _subject(Stub(part, f"its {side} stub-out", said, (*path, key, "stub")), facts)


def _subject(stub: Stub, facts: Facts) -> Subject:
    name = f"{stub.what} of {facts.part_name(stub.part.id)}" if stub.what.startswith("its ") else stub.what
    return Subject(("parts", stub.part.id), name.replace("its ", "", 1), stub.part.place, stub)


def _side(own: FixtureOwn, side: str) -> tuple[str | None, str]:
    """What is said of the stub-out of a side, and under which key."""
    one = own.hot if side == "hot" else own.cold
    if isinstance(one, Supply):
        return one.stub, side
    return _stub(own.supply), "supply"


def _stub(supply: Supply | str | None) -> str | None:
    return supply.stub if isinstance(supply, Supply) else None


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether something holds it."""
    one: Stub = subject.thing
    anchor = one.part.anchor
    if not is_new(one.part):
        return on_site("old stub-out: take hold of it and pull")
    if anchor not in (None, NONE, NOT_KNOWN):
        return holds(f"held by {anchor}")
    pulled = one.part.is_ in _PULLED
    if not pulled and one.stub in _RIGID:
        return holds(f"{one.stub}")
    if anchor == NONE and (pulled or one.stub not in (None, NOT_KNOWN) or one.part.is_ == "clothes washer"):
        return _loose(one, pulled, facts, limits)
    if not pulled and one.stub in ("tube", NONE) and anchor is None:
        return _loose(one, pulled, facts, limits)
    if pulled and one.stub == "drop ear ell" and one.part.is_ != "hose outlet":
        return holds("a drop ear ell")
    key = (*subject.path, "anchor") if pulled or one.part.is_ == "clothes washer" or one.stub is not None else one.key
    raise NotShown(key, "what holds it to the framing (stub: copper ell, or anchor: ear, flange, block)")


def _loose(one: Stub, pulled: bool, facts: Facts, limits: Limits) -> Outcome:
    name, where = facts.part_name(one.part.id), facts.place_name(one.part.place)
    what = one.what.removeprefix("its ").removeprefix("the ")
    hold = "its flange" if one.part.is_ == "hose outlet" else "a drop ear ell" if pulled else "a copper stub-out ell"
    pull = "a pull on the hose" if one.part.is_ == "hose outlet" else "a pull on it"
    return broken(
        f"{capital(what)} of {name}{f' in {where}' if where else ''}: nothing holds it but the tube.",
        "correction" if pulled else "advice",
        limit=limits.of(SECURED),
        found="bare tube" if one.stub == "tube" else "no anchor",
        needed="a stub-out ell, bend support or anchor screwed to the framing",
        mend=f"Screw {hold} to blocking; {pull} must not reach the ring.",
    )
