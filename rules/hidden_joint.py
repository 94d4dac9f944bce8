"""Joints where nobody gets at them again

Looks at: each coupling, ell, tee and adapter that the plan calls hidden, or that lies in a slab or in the ground: how it is
    made. Behind a wall rings, press, solder and cement may stay; unions, compression and flare are made to be undone and
    want a panel. In or under a slab no joint of plastic at all, and of copper only brazed ones. Valves are another rule's.
Why: a nut works loose with heat and cold, and behind tile the first sign of it is a rotten floor. Under concrete a drip costs
    the floor to find.
To mend: make the joint by ring, press or solder, or give it a panel; bring tube up in the wall, branch above the floor, and
    go down again in one piece.
Cannot see: what is behind a wall and not written; whether a push fitting is listed to be built in.
Ask: some towns forbid every joint under a slab, some makers list theirs for it: ask before the concrete comes.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    FOOT_M,
    METAL,
    NOT_KNOWN,
    PEX,
    PLASTIC,
    Facts,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.outofsight import Joint

_REACH = "no union, compression or flare joint where nobody gets at it"
_BRAZED = "copper in or under a slab is joined by brazing"
HIDDEN = Limit(
    "hidden",
    "joints that may be built in",
    "text",
    "",
    practice=(Value(_REACH, printed("a tube maker's sheet", "", "concealed joints"), practice=True),),
)
SLAB_PLASTIC = Limit(
    "slab_plastic",
    "joints of plastic in or under a slab",
    "text",
    "",
    practice=(Value("one piece, no fittings", printed("a design guide, as quoted", "2006", "9"), practice=True),),
)
SLAB_COPPER = Limit(
    "slab_copper",
    "joints of copper in or under a slab",
    "text",
    "",
    irc=(Value(_BRAZED, printed("IRC", "2006", "P2904.15")),),
    upc=(Value(_BRAZED, printed("UPC", "2024", "609.3")),),
    practice=(Value(_BRAZED, recalled("IPC", "2018", "605"), practice=True),),
)
RULE = Rule("correction", "layout", (HIDDEN, SLAB_PLASTIC, SLAB_COPPER))

_LOOSE = ("union", "compression", "flare")


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each joint that is hidden or lies in slab or ground."""
    if not _any(facts):
        return
    from plancheck.outofsight import hidden_joints

    for joint in hidden_joints(facts):
        yield Subject(joint.path, joint.name, joint.place, joint)


def _any(facts: Facts) -> bool:
    """Whether a plan has anything to look at: most have not."""
    plan = facts.plan
    if any(run.along for run in plan.runs.values()) or any(part.hidden for part in plan.parts.values()):
        return True
    return any(place.is_ in ("slab", "ground") for place in plan.places.values())


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a joint may be where nobody gets at it."""
    from plancheck.outofsight import IN_GROUND, IN_WALL

    joint: Joint = subject.thing
    if not joint.new:
        return on_site(f"old joint {joint.where}: see whether it weeps before it is built in again")
    if joint.fished:
        return on_site("where tube was fished: it is to be listed to be built in")
    if joint.where == IN_GROUND:
        return on_site("in the ground: listed to be buried, and wrapped")
    return _in_wall(joint, facts, limits) if joint.where == IN_WALL else _in_slab(joint, facts, limits)


def _in_wall(joint: "Joint", facts: Facts, limits: Limits) -> Outcome:
    words = [word for word, _, _ in joint.made]
    loose = next((word for word in words if word in _LOOSE), None)
    if loose is None:
        unsaid = next((path for word, _, path in joint.made if word in (None, NOT_KNOWN)), None)
        if unsaid is not None:
            raise NotShown(unsaid, "how the hidden joint is made")
        if "push" in words:
            return on_site("a push fitting built in: its own listing says whether it may be")
        return holds(f"{joint.name}: {', '.join(dict.fromkeys(filter(None, words)))}")
    if joint.doubt is not None:
        raise NotShown(joint.doubt, "whether the joint is hidden")
    return broken(
        f"{capital(joint.name)} is hidden and made by {loose}.",
        "advice",
        measured=Measured(loose, "text"),
        limit=limits.of(HIDDEN),
        found=f"a hidden {loose} joint",
        needed="a joint by ring, press, solder or cement, or a panel over it",
        mend=f"Make it by ring, press or solder, or put a panel of {facts.length(FOOT_M)} each way over it and write `hidden: false`.",
        at=joint.path,
    )


def _in_slab(joint: "Joint", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.outofsight import PERHAPS

    materials = {tube.material for _, tube, _ in joint.made if tube is not None}
    words = [word for word, _, _ in joint.made]
    plastic, metal = bool(materials & PLASTIC), bool(materials & METAL)
    if not plastic and metal and all(word == "braze" for word in words):
        return holds("brazed")
    if materials and materials <= PLASTIC - PEX and all(word == "solvent cement" for word in words):
        return on_site(f"glued, {joint.where}: the maker says whether it may lie there")
    if joint.doubt is not None and joint.where == PERHAPS:
        raise NotShown(joint.doubt, "where along the run it sits: in the slab or above it")
    if not plastic:
        return _unbrazed(joint, words, limits.of(SLAB_COPPER))
    return _plastic(joint, metal, limits.of(SLAB_PLASTIC), facts)


def _unbrazed(joint: "Joint", words: list[str | None], limit: InForce) -> Outcome:
    word = next((word for word in words if word != "braze"), None)
    if word is None or word == NOT_KNOWN:
        unsaid = next((path for one, _, path in joint.made if one != "braze"), joint.path)
        raise NotShown(unsaid, "how the joint in the slab is made")
    return broken(
        f"{capital(joint.name)} lies {joint.where} and is made by {word}.",
        "correction",
        measured=Measured(word, "text"),
        limit=limit,
        found=f"{word} {joint.where}",
        needed="brazed, with wrought fittings, or no joint",
        mend="Lay soft copper in one piece, or braze the joint.",
        at=joint.path,
    )


def _plastic(joint: "Joint", metal: bool, limit: InForce, facts: Facts) -> Outcome:
    what = "a joint of plastic to metal" if metal else "a joint of plastic tube"
    return broken(
        f"{capital(joint.name)} lies {joint.where}: {what}.",
        "advice",
        measured=Measured(what, "text"),
        limit=limit,
        found=f"{what} {joint.where}",
        needed="one piece from above the floor to above the floor",
        mend=f"Bring the tube up in the wall, join it {facts.length(FOOT_M)} or more above the floor, and go down again in one piece.",
        ask="Some makers list fittings for concrete, some towns bar them all: ask before it is poured.",
        at=joint.path,
    )
