"""Through metal, masonry and concrete without rubbing

Looks at: every pass of new work through a metal stud, masonry, a foundation wall or footing, and in or out of a slab: whether a
    grommet or sleeve keeps the pipe off the edge, and in foundations whether the sleeve is two sizes over the pipe. Wood
    needs none. The size row is 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3; a 5/8 tube counts as 3/4.
Why: tube moves with every change of temperature, and a punched steel edge saws it. A wall settles and concrete grips: what
    is cast in tight is bent or bitten through at the edge.
To mend: a grommet in every stud; a sleeve or a conduit ell where it comes out of the slab; in the foundation a sleeve two sizes
    larger, the gap filled so that water and mice stay out. Foundations and slabs are sleeved before the pour.
Cannot see: what fills the gap, reinforcement that touches, whether a grommet sits, cuts on the tube as it was drawn in.
Ask: where the wall is bored afterwards the inspector still wants the sleeve; some take a link seal instead.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    METAL,
    NONE,
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Size,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    is_plastic,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.passes import Passed

STEPS = Limit(
    "steps",
    "sleeve in a foundation wall or footing over the pipe it holds",
    "sizes",
    "at least",
    irc=(Value(2.0, printed("IRC", "2018", "P2603.4")),),
    ipc=(Value(2.0, recalled("IPC", "2015", "305.3")),),
    upc=(Value(2.0, recalled("UPC", "2015", "312.10")),),
    practice=(Value(2.0, printed("IRC", "2018", "P2603.4"), practice=True),),
)
_OFF, _ENDS = "nothing that cuts or rubs the pipe", "a sleeve, conduit ell or bend support at a slab"
GROMMET = Limit(
    "grommet",
    "pipe through metal studs and masonry",
    "text",
    "",
    irc=(Value(_OFF, recalled("IRC", "2018", "P2603.3")),),
    ipc=(Value(_OFF, recalled("IPC", "2015", "305.1")),),
    upc=(Value(_OFF, recalled("UPC", "2015", "312.1")),),
    practice=(Value(_OFF, printed("tube makers' manuals", "", "metal studs"), practice=True),),
)
SLAB = Limit(
    "slab",
    "pipe where it enters or leaves a slab",
    "text",
    "",
    irc=(Value(_ENDS, recalled("IRC", "2018", "P2603.3")),),
    ipc=(Value(_ENDS, recalled("IPC", "2015", "305.1")),),
    upc=(Value(_ENDS, recalled("UPC", "2015", "312.2")),),
    practice=(Value(_ENDS, printed("a tube maker's manual", "", "slab penetrations"), practice=True),),
)
RULE = Rule("correction", "layout", (STEPS, GROMMET, SLAB))

_ROW = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3")
_AS = {"1/4": "3/8", "5/8": "3/4", "4": "3"}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each pass of new work through metal, masonry, foundation or slab."""
    for one in facts.passes:
        if not is_new(one.run):
            continue
        kind = next((kind for kind in one.member.kinds if kind in _JUDGES), None)
        if kind is not None:
            yield Subject(one.path, one.name, one.place, (kind, one), "rough-in" if kind in _SET_LATER else None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether something keeps the pipe off the edge."""
    kind, one = subject.thing
    if one.fished:
        return on_site("drawn through closed work: look at both ends for a sleeve or grommet")
    return _JUDGES[kind](one, facts, limits)


def _sleeve(one: "Passed") -> Size | str | None:
    """The size of the sleeve, what it is in words, none, or None where it is not said."""
    said = one.said.sleeve
    if isinstance(said, bool):
        return "a sleeve" if said else NONE
    return None if said in (None, NOT_KNOWN) else said


def _edge(one: "Passed", facts: Facts, limits: Limits) -> Outcome:
    sleeve = _sleeve(one)
    if one.said.grommet is True or sleeve not in (None, NONE):
        return holds("kept off the edge")
    masonry = "metal stud" not in one.member.kinds
    if one.said.grommet is not False and not (masonry and sleeve == NONE):
        key = "sleeve" if masonry else "grommet"
        raise NotShown((*one.path, key), f"whether a grommet or sleeve keeps it off the edge ({key}: true or false)")
    mend = (
        "Sleeve the hole, and close the gap."
        if masonry
        else "Snap a grommet made for the punched hole into each, before the tube is drawn through."
    )
    return broken(
        f"{one.run.id} goes through {one.said.through} with no grommet or sleeve.",
        "correction",
        limit=limits.of(GROMMET),
        found="bare through the edge",
        needed="a grommet or a sleeve in each",
        mend=mend,
    )


def _slab(one: "Passed", facts: Facts, limits: Limits) -> Outcome:
    sleeve = _sleeve(one)
    if sleeve is None:
        raise NotShown((*one.path, "sleeve"), "what it goes through the slab in (sleeve: conduit ell, a size, none)")
    if sleeve != NONE:
        return holds("kept off the concrete")
    metal = one.tube is not None and one.tube.material in METAL
    return broken(
        f"{one.run.id} goes through the slab with no sleeve.",
        "correction" if metal else "advice",
        limit=limits.of(SLAB),
        found="none",
        needed="a sleeve, a conduit ell or a bend support",
        mend="Set a conduit ell or a sleeve where it comes out, before the pour; let it stand out of the concrete.",
        caution="" if metal or is_plastic(one.tube) else "The tube's material is not said.",
    )


def _foundation(one: "Passed", facts: Facts, limits: Limits) -> Outcome:
    sleeve = _sleeve(one)
    if sleeve is None:
        raise NotShown((*one.path, "sleeve"), "the sleeve it goes through (sleeve: its size, arch, none)")
    if isinstance(sleeve, str) and sleeve != NONE:
        return holds(f"{sleeve}; whether it is two sizes over the pipe is to be seen on site")
    limit, size = limits.of(STEPS), one.tube.size if one.tube is not None else None
    pipe = _step(size)
    if sleeve == NONE:
        wanted = _wanted(pipe, limit.number) if pipe is not None else "two sizes over it"
        return _too_tight(
            one, f"{one.run.id} goes through {one.said.through} with no sleeve", "none", wanted, limits, None
        )
    if pipe is None:
        raise NotShown(("tubes", one.run.tube or "", "size"), "the pipe's size in inches, to compare with the sleeve's")
    held = _step(sleeve)
    if held is None:
        raise NotShown((*one.path, "sleeve"), "the sleeve's size in inches")
    if held - pipe >= limit.number:
        return holds("", Measured(float(held - pipe), "sizes"), limit)
    wanted = _wanted(pipe, limit.number)
    says = (
        f"{one.run.id}, {_ROW[pipe]} in, goes through {one.said.through} in a {_ROW[held]} in sleeve; at least {wanted}"
    )
    return _too_tight(one, says, f"{_ROW[held]} in", wanted, limits, held - pipe)


def _too_tight(one: "Passed", says: str, found: str, wanted: str, limits: Limits, steps: int | None) -> Outcome:
    return broken(
        f"{says}.",
        "correction",
        measured=Measured(float(steps), "sizes") if steps is not None else None,
        limit=limits.of(STEPS),
        found=found,
        needed=f"a sleeve of {wanted} at least, or a relieving arch",
        mend=f"Core and sleeve at {wanted} or more; fill the gap so that water and mice stay out.",
    )


def _step(size: object) -> int | None:
    """The place of a size in the row, None where it is not one in inches."""
    if not isinstance(size, Size) or size.metric:
        return None
    name = _AS.get(size.name, size.name)
    return _ROW.index(name) if name in _ROW else None


def _wanted(pipe: int, steps: float) -> str:
    return f"{_ROW[min(pipe + int(steps), len(_ROW) - 1)]} in"


_SET_LATER = ("metal stud", "masonry")
_JUDGES = {"metal stud": _edge, "masonry": _edge, "slab": _slab, "foundation": _foundation}
