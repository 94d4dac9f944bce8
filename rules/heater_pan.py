"""A pan with a drain where a leaking tank would do damage

Looks at: each storage heater: whether it stands where a leak does damage, in an attic or on a framed floor, and has a pan; the
    size of the pan's drain and where it goes; its depth and material. Tankless heaters need none.
Why: every tank leaks one day, mostly at night, and the street goes on filling it.
To mend: set it in a metal pan at least 1-1/2 in deep with a 3/4 in drain that falls to the outside or to a floor drain.
Cannot see: what lies below and what it is worth; how thick the pan is. A leak alarm or an automatic valve is no pan.
Ask: whether a new heater in an old place that never had a drain needs one: the model codes let it be.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NOT_KNOWN,
    Facts,
    HeaterOwn,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Pan,
    Part,
    Path,
    Relief,
    Rule,
    Size,
    Subject,
    Value,
    at_least,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    known_text,
    length,
    on_site,
    printed,
    recalled,
)

_TEXT = "a pan with a drain where a leak does damage"
_BELOW = "no plastic pan under a burner"
PAN = Limit("pan", "storage heaters over what a leak would damage", "text", "", irc=(Value(_TEXT, printed("IRC", "2015", "P2801.6")),),
            ipc=(Value(_TEXT, printed("IPC", "2015", "504.7")),), upc=(Value(_TEXT, printed("UPC", "2021", "507.5")),),
            practice=(Value(_TEXT, printed("IRC and IPC", "2015", "P2801.6, 504.7"), practice=True),))  # fmt: skip
DEPTH = Limit("depth", "depth of a heater's pan", "length", "at least",
              irc=(Value(1.5 * INCH_M, printed("IRC", "2015", "P2801.6.1")),),
              ipc=(Value(1.5 * INCH_M, printed("IPC", "2015", "504.7")),),
              practice=(Value(1.5 * INCH_M, printed("IRC and IPC", "2015", "P2801.6.1, 504.7"), practice=True),))  # fmt: skip
DRAIN = Limit("drain", "drain of a heater's pan", "text", "",
              irc=(Value("3/4 or larger", printed("IRC", "2015", "P2801.6.1 and P2801.6.2")),),
              ipc=(Value("3/4 or larger", printed("IPC", "2015", "504.7")),),
              upc=(Value("3/4 or larger", recalled("UPC", "2021", "507.5")),),
              practice=(Value("3/4 or larger", printed("IRC and IPC", "2015", "P2801.6.1, 504.7"), practice=True),))  # fmt: skip
BURNER = Limit("burner", "pan under a burner", "text", "", irc=(Value(_BELOW, printed("IRC", "2015", "P2801.6")),),
               ipc=(Value(_BELOW, printed("IPC", "2015", "504.7")),),
               practice=(Value(_BELOW, printed("IRC and IPC", "2015", "P2801.6, 504.7"), practice=True),))  # fmt: skip
RULE = Rule(highest="correction", stage="layout", limits=(PAN, DEPTH, DRAIN, BURNER))

_NO_STORE = ("tankless", "point of use", "boiler coil")
_DRY = ("outdoors", "ground", "slab")
_LEAST_RANK = 0.75


class Asked(NamedTuple):
    """One question on a heater's pan: pan, drain, depth or material."""

    part: Part
    own: HeaterOwn
    asks: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """For each storage heater whether it has the pan it needs; of a pan its drain, depth and material."""
    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or part.work == "removed" or own.style in _NO_STORE:
            continue
        path: Path = ("parts", part.id, "pan")
        name = facts.part_name(part.id)
        yield Subject(path, f"pan of {name}", part.place, Asked(part, own, "pan"))
        if isinstance(own.pan, Pan):
            for asks in ("drain", "depth", "material"):
                title = f"{asks} of the pan of {name}"
                yield Subject((*path, asks), title, part.place, Asked(part, own, asks), "rough-in")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a pan is there where it is needed, and drains."""
    asked: Asked = subject.thing
    pan = asked.own.pan
    if not isinstance(pan, Pan):
        return _no_pan(asked, pan, facts, limits)
    if asked.asks == "pan":
        return holds("it stands in a pan")
    if not is_new(asked.part):
        return on_site(f"existing pan: look at its {asked.asks}")
    if asked.asks == "drain":
        return _drain(asked, pan, facts, limits)
    return _depth(asked, pan, facts, limits) if asked.asks == "depth" else _material(asked, pan, limits)


def _needed(asked: Asked, facts: Facts) -> bool | None:
    """Whether a leak does damage where the heater stands; None in a crawl space. Raises NotShown where it is not said."""
    if asked.own.style is None or asked.own.style == NOT_KNOWN:
        raise NotShown(("parts", asked.part.id, "style"), "whether the heater stores hot water")
    place = facts.plan.places.get(asked.part.place) if asked.part.place is not None else None
    if place is None:
        raise NotShown(("parts", asked.part.id, "place"), "where the heater stands")
    if place.is_ == "crawl space":
        return None
    if place.is_ == "attic" or place.is_ in _DRY:
        return place.is_ == "attic"
    if place.floor is None or place.floor == NOT_KNOWN:
        raise NotShown(("places", place.id, "floor"), "whether the heater's floor is a slab or framed")
    return place.floor == "framed"


def _no_pan(asked: Asked, pan: str | None, facts: Facts, limits: Limits) -> Outcome:
    path = ("parts", asked.part.id, "pan")
    unsaid = pan is None or pan == NOT_KNOWN
    try:
        needed = _needed(asked, facts)
    except NotShown:
        if unsaid:
            raise NotShown(path, "whether it stands in a pan (pan: drain, depth, material, or none)") from None
        raise
    if needed is False:
        return holds("a leak does little damage there")
    if unsaid:
        raise NotShown(path, "whether it stands in a pan (pan: drain, depth, material, or none)")
    if needed is None:
        return on_site("in a crawl space without a pan: see what a leak would do")
    name, place = facts.part_name(asked.part.id), facts.plan.places[asked.part.place or ""]
    if not is_new(asked.part):
        return on_site(f"existing {name} stands without a pan where a leak does damage")
    size = f"{asked.own.volume.text} " if asked.own.volume is not None and not isinstance(asked.own.volume, str) else ""
    where = "in an attic" if place.is_ == "attic" else f"on the framed floor of {place.title}"
    return broken(
        capital(f"{size}{name} stands {where} with no pan."),
        "advice" if facts.family == "upc" and place.is_ != "attic" else "correction",
        limit=limits.of(PAN),
        found="none",
        needed=_TEXT,
        mend=f"Set it in a pan at least {facts.length(1.5 * INCH_M)} deep, its 3/4 in drain falling to the outside or an indirect "
        f"drain; outdoors it ends {facts.length(6 * INCH_M)} to {facts.length(24 * INCH_M)} above ground.",
    )


def _drain(asked: Asked, pan: Pan, facts: Facts, limits: Limits) -> Outcome:
    path, place = ("parts", asked.part.id, "pan"), facts.plan.places.get(asked.part.place or "")
    if pan.drain is None or pan.drain == NOT_KNOWN:
        raise NotShown((*path, "drain"), "the size of the pan's drain, or none")
    if not isinstance(pan.drain, Size):
        attic = place is not None and place.is_ == "attic"
        return broken(
            "The pan has no drain.",
            "correction" if attic else "advice",
            limit=limits.of(DRAIN),
            found="none",
            needed="3/4 in or larger",
            why="A pan without a drain is full after the first gallons.",
            mend="Run a 3/4 in drain, falling, to the outside or to a floor drain.",
            caution="" if attic else "Where a heater is replaced that never had a drain, the model codes let it be.",
        )
    relief = asked.own.relief
    pipe = relief.discharge if isinstance(relief, Relief) else None
    into_pan = pipe is not None and not isinstance(pipe, str) and pipe.to == "pan"
    outlet = relief.size if isinstance(relief, Relief) and into_pan and isinstance(relief.size, Size) else None
    if pan.drain.rank < _LEAST_RANK - 0.001 or (outlet is not None and pan.drain.rank < outlet.rank - 0.001):
        least = outlet.words if outlet is not None and outlet.rank > _LEAST_RANK else "3/4 in"
        return broken(
            f"The pan's drain is {pan.drain.words}; at least {least}.",
            "correction",
            limit=limits.of(DRAIN),
            found=pan.drain.words,
            needed=f"at least {least}",
            mend=f"Run it in {least} all the way.",
        )
    if pan.to is None or pan.to == NOT_KNOWN:
        return on_site("see where the pan's drain ends")
    if pan.to == "drain":
        return broken("The pan's drain is joined to a drain without an air gap.", "correction", limit=limits.of(DRAIN),
                      found="joined to a drain", needed="the outside, or a drain with an air gap",
                      mend="End it over a floor drain or a receptor.")  # fmt: skip
    return holds(f"{pan.drain.words} to {pan.to}")


def _depth(asked: Asked, pan: Pan, facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(pan.depth, Length):
        raise NotShown(("parts", asked.part.id, "pan", "depth"), "how deep the pan is")
    limit, about = limits.of(DEPTH), estimates(pan.depth)
    if at_least(pan.depth.m, limit.number, GRACE_LENGTH_M):
        return holds("", length(pan.depth.m), limit, about)
    least = facts.length(limit.number)
    return broken(
        f"The pan is {pan.depth.text} deep; at least {least}.",
        "correction",
        measured=length(pan.depth.m),
        limit=limit,
        mend=f"Set the heater in a pan {least} deep or deeper.",
        estimate=about,
    )


def _material(asked: Asked, pan: Pan, limits: Limits) -> Outcome:
    material = known_text(pan.material, ("parts", asked.part.id, "pan", "material"), "what the pan is made of")
    if material != "plastic":
        return holds(f"{material}; see that it is thick enough")
    fuel = asked.own.fuel
    if fuel is None or fuel == NOT_KNOWN:
        raise NotShown(("parts", asked.part.id, "fuel"), "what heats it: a plastic pan does not go under a burner")
    if fuel not in ("gas", "oil", "wood"):
        return holds("plastic, and no burner over it")
    return broken(
        f"A plastic pan stands under a heater that burns {fuel}.",
        "correction",
        limit=limits.of(BURNER),
        found="plastic",
        needed="a metal pan",
        mend="Set it in a pan of galvanised or stainless steel, or of aluminium.",
    )
