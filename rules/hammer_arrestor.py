"""Arrestors at valves that snap shut

Looks at: each side of a clothes washer that has water, dishwashers, ice makers and toilets with a flush valve: whether an
    arrestor is stated there, or stands as a part on that side within 6 ft of pipe and before the next branch valve, and
    whether its letter is enough for what it serves. Faucets, lever taps and the fill valves of toilet tanks are no
    such valves.
Why: a solenoid shuts in a few hundredths of a second. The water behind it stops as fast, and the pressure jumps by what
    the tube's wall lets it: some 100 psi in 1/2 in PEX at washer flow, 400 in copper. It is heard as a bang, and felt
    by every joint, stop and hose on the line.
To mend: an arrestor to ASSE 1010 at the stop, one on each side; a washer box with arrestors built in, or a dishwasher tee
    with one. A capped piece of pipe standing up fills with water within weeks and is no arrestor.
Cannot see: how fast the valve really shuts, whether an arrestor still has its charge, whether the box has them built in
    unless the plan says so.
Ask: which machines the inspector counts as quick-closing; most ask it for washer and dishwasher, some for ice makers.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Size,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    later,
    length,
    of_practice,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.surge import Near

_DEMAND = "an arrestor (ASSE 1010) where a valve shuts quickly"
ARRESTOR = Limit(
    "arrestor",
    "water hammer arrestors at quick-closing valves",
    "text",
    "",
    irc=(Value(_DEMAND, printed("IRC", "", "P2903.5")),),
    ipc=(Value(_DEMAND, printed("IPC", "", "604.9")),),
    upc=(Value(_DEMAND, printed("UPC", "", "609.10 (609.11 in 2021)")),),
    practice=(Value(_DEMAND, printed("a page on arrestor rules", "", "all three codes"), practice=True),),
)
REACH = of_practice(
    "reach", "pipe between an arrestor and the stop it serves", "length", "at most", 6 * 0.3048, PRACTICE
)
LETTER = of_practice(
    "letter",
    "fixture units that an arrestor of size AA serves (A: 11)",
    "count",
    "at most",
    4.0,
    recalled("arrestor makers' sizing", "", "AA"),
)
RULE = Rule(highest="correction", stage="layout", limits=(ARRESTOR, REACH, LETTER))

_SNAP = frozenset(("clothes washer", "dishwasher", "ice maker"))
_GRACE_M = 0.0254 / 16
_ADVICE = frozenset(("ice maker",))  # small solenoids on thin tube, which no code names


class Snapping(NamedTuple):
    """One side of a fixture whose valve snaps shut: its connection, its tap's vertex."""

    part: Part
    side: str
    vertex: int


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each side with water of a fixture whose valve snaps shut."""
    for part in facts.plan.parts.values():
        if part.work == "removed" or not _snaps(part):
            continue
        for side in ("cold", "hot"):
            tap = facts.network.outlets.get(f"{part.id}/{side}")
            if tap is not None and tap in facts.traced.parents:
                vertex = facts.network.number[f"{part.id}/{side}"]
                name = f"{side} side of {facts.part_name(part.id)}" if part.is_ == "clothes washer" else ""
                thing = Snapping(part, side, vertex)
                yield Subject(("parts", part.id), name or facts.part_name(part.id), part.place, thing)


def _snaps(part: Part) -> bool:
    if part.is_ == "toilet":
        return isinstance(part.own, FixtureOwn) and part.own.style == "flush valve"
    return part.is_ in _SNAP


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether an arrestor is stated, or near, and large enough."""
    snapping: Snapping = subject.thing
    said, path = _said(snapping)
    if not is_new(snapping.part):
        return on_site("old connection: look for an arrestor on each side, and listen for a bang when it shuts")
    if said in (NONE, "air chamber"):
        near = _nearest(snapping, facts, limits)
        if near is None or said != NONE:
            return _without(snapping, said, path, facts, limits)
        return _by_part(snapping, near, facts, limits)
    if said not in (None, NOT_KNOWN):
        return _letter(snapping, said, path, facts, limits)
    near = _nearest(snapping, facts, limits)
    if near is not None:
        return _by_part(snapping, near, facts, limits)
    if facts.stage == "layout":
        return later("judged from the rough-in stage on: nothing is said of an arrestor yet")
    raise NotShown(path, "whether there is an arrestor (arrestor: its letter, true, none)")


def _said(snapping: Snapping) -> tuple[str | None, Path]:
    """What the plan says of the arrestor of a side, and the key: of the fixture, of that side, of both sides."""
    own, root = snapping.part.own, ("parts", snapping.part.id)
    if not isinstance(own, FixtureOwn):
        return None, (*root, "arrestor")
    if own.arrestor is not None:
        return _word(own.arrestor), (*root, "arrestor")
    one = own.hot if snapping.side == "hot" else own.cold
    for supply, key in ((one, snapping.side), (own.supply, "supply")):
        if supply is not None and not isinstance(supply, str):
            if supply.arrestor is not None:
                return _word(supply.arrestor), (*root, key, "arrestor")
            break
    return None, (*root, "arrestor")


def _word(said: object) -> str:
    return said if isinstance(said, str) else "yes" if said else NONE


def _nearest(snapping: Snapping, facts: Facts, limits: Limits) -> "Near | None":
    """The nearest arrestor on the pipe of that side, up to twice as far as it may be."""
    from plancheck.surge import nearest_arrestor

    return nearest_arrestor(facts, snapping.vertex, 2 * limits.of(REACH).number)


def _by_part(snapping: Snapping, near: "Near", facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(REACH)
    name = facts.part_name(near.part.id)
    if near.m > limit.number + _GRACE_M:
        from plancheck.measures.steps import stepped_up

        nearer_m = stepped_up(near.m - limit.number, "length", facts.units)
        return broken(
            f"{name} stands {facts.length(near.m)} of pipe from {_named(snapping, facts)}; at most "
            f"{facts.length(limit.number)}.",
            "advice",
            measured=length(near.m),
            limit=limit,
            mend=f"Move it to the stop, {facts.length(nearer_m)} nearer at least.",
        )
    if near.missing is not None:
        raise NotShown(near.missing, f"how far {name} stands from the stop")
    letter = getattr(near.part.own, "letter", None)
    said = letter if letter not in (None, NOT_KNOWN) else "yes"
    return _letter(snapping, str(said), ("parts", near.part.id, "letter"), facts, limits)


def _letter(snapping: Snapping, said: str, path: Path, facts: Facts, limits: Limits) -> Outcome:
    """A flush valve asks more than the smallest arrestor serves; all else here is within it."""
    if said != "AA" or snapping.part.is_ != "toilet":
        return holds(f"arrestor {said}" if said != "yes" else "an arrestor; its letter is not said")
    return broken(
        f"The arrestor of {_named(snapping, facts)} is size AA, which serves 4 fixture units; a flush valve counts more.",
        "advice",
        limit=limits.of(LETTER),
        found="size AA on a flush valve",
        needed="size A, for up to 11 fixture units",
        mend="Fit size A.",
        at=path,
    )


def _named(snapping: Snapping, facts: Facts) -> str:
    name = facts.part_name(snapping.part.id)
    return f"the {snapping.side} side of {name}" if snapping.part.is_ == "clothes washer" else name


def _without(snapping: Snapping, said: str, path: Path, facts: Facts, limits: Limits) -> Outcome:
    limit: InForce = limits.of(ARRESTOR)
    name = _named(snapping, facts)
    has = "no arrestor" if said == NONE else "an air chamber, which fills with water"
    found, measured = _surge(snapping, facts)
    where = "at the box on each side" if snapping.part.is_ == "clothes washer" else "at its stop"
    return broken(
        f"{name[0].upper()}{name[1:]}: {has}{found}.",
        "advice" if snapping.part.is_ in _ADVICE else "correction",
        measured=measured,
        limit=limit,
        found="none" if said == NONE else "an air chamber",
        needed=_DEMAND,
        mend=f"Fit size {'A' if snapping.part.is_ == 'toilet' else 'A (or AA)'} {where}, to ASSE 1010.",
        caution="In PEX the jump is a quarter of that in copper by the formula; field reports give 18 to 40 percent "
        "less. No tube does without the arrestor.",
        at=path if said != NONE else None,
    )


def _surge(snapping: Snapping, facts: Facts) -> tuple[str, Measured | None]:
    """How hard it stops, in words: what it draws alone in this house, else the usual rate."""
    from plancheck.surge import stopped_at

    found = stopped_at(facts, snapping.part, snapping.side)
    if found is None:
        return "", None
    on_top = "" if found.before_pa is None else f" on top of {facts.quantity(found.before_pa, 'pressure')}"
    size = found.tube.size
    name = "" if not isinstance(size, Size) else f"{size.name} " if size.metric else f"{size.name} in "
    how = "drawn with all else shut" if found.solved else "the usual rate"
    words = (
        f"; {facts.quantity(found.flow_m3s, 'flow')} ({how}) in {name}{found.tube.material} stops "
        f"{facts.quantity(found.speed_m_s, 'speed')}, about {facts.quantity(found.rise_pa, 'pressure')}{on_top}"
    )
    return words, Measured(found.rise_pa, "pressure")
