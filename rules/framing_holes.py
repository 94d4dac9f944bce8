"""Holes and notches the wood can take

Looks at: every hole and notch that the plan lists in studs, plates, joists, rafters and beams: how large it is against the
    depth of the timber (a 2x4 is 3-1/2 in deep, a 2x10 9-1/4), how much wood is left to the nearest face, and for notches
    where along the span they are. Several tubes in one hole count as the one hole.
Why: a joist carries by its top and bottom inch; a stud that is mostly hole folds. The plumber is gone by the time the
    floor sags, and the framing inspector finds it before he does. A hole in the middle of a joist's span is allowed; a
    notch there is not.
To mend: drill smaller and through the middle of the depth; double the stud; go round. A timber that is cut too far is
    repaired as the builder or an engineer says, not by filling the hole.
Cannot see: knots, old holes, holes less than 2 in from each other, how long a notch is (a third of the depth at most), and
    whether a notch called `end` is really over the bearing. I-joists, trusses and glued beams go by their maker's chart.
Ask: this is the building code's, so the framing inspector's; under IPC and UPC it comes through the building code.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    INCH_M,
    Facts,
    Limit,
    Limits,
    Outcome,
    Rule,
    Source,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    length,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.passes import Passed
    from plancheck.timbers import Fault

_STUDS = printed("IRC", "2018", "R602.6")
_JOISTS = printed("IRC", "2018", "R502.8.1 and R802.7.1")
_IBC_STUDS, _IBC_JOISTS = recalled("IBC", "2018", "2308.5.9"), recalled("IBC", "2018", "2308.4.2.4 and 2308.7.4")


def _limit(id_: str, title: str, unit: str, sense: str, value: float, irc: Source, ibc: Source) -> Limit:
    own, other = (Value(value, irc),), (Value(value, ibc),)
    return Limit(id_, title, unit, sense, irc=own, ipc=other, upc=other, practice=(Value(value, irc, practice=True),))


_DEPTH, _MOST, _LEAST = "of the depth", "at most", "at least"
BEARING_HOLE = _limit("bearing_hole", "hole in a stud that bears", _DEPTH, _MOST, 0.40, _STUDS, _IBC_STUDS)
STUD_HOLE = _limit(
    "stud_hole", "hole in a stud that bears nothing, or is doubled", _DEPTH, _MOST, 0.60, _STUDS, _IBC_STUDS
)
STUD_LEFT = _limit(
    "stud_left", "wood from a hole to the face of a stud", "length", _LEAST, 0.625 * INCH_M, _STUDS, _IBC_STUDS
)
BEARING_NOTCH = _limit("bearing_notch", "notch in a stud that bears", _DEPTH, _MOST, 0.25, _STUDS, _IBC_STUDS)
STUD_NOTCH = _limit("stud_notch", "notch in a stud that bears nothing", _DEPTH, _MOST, 0.40, _STUDS, _IBC_STUDS)
JOIST_HOLE = _limit("joist_hole", "hole in a joist or rafter", _DEPTH, _MOST, 1 / 3, _JOISTS, _IBC_JOISTS)
JOIST_LEFT = _limit(
    "joist_left", "wood above and below a hole in a joist", "length", _LEAST, 0.0508, _JOISTS, _IBC_JOISTS
)
JOIST_NOTCH = _limit(
    "joist_notch", "notch in a joist, outside its middle third", _DEPTH, _MOST, 1 / 6, _JOISTS, _IBC_JOISTS
)
JOIST_END = _limit("joist_end", "notch at the end of a joist", _DEPTH, _MOST, 0.25, _JOISTS, _IBC_JOISTS)
PLATE_CUT = _limit("plate_cut", "cut in a top plate that bears, without a strap over it", _DEPTH, _MOST, 0.5, printed("IRC", "2018", "R602.6.1"), recalled("IBC", "2018", "2308.5.8"))  # fmt: skip
_ALL = (BEARING_HOLE, STUD_HOLE, STUD_LEFT, BEARING_NOTCH, STUD_NOTCH, JOIST_HOLE, JOIST_LEFT, JOIST_NOTCH, JOIST_END)
RULE = Rule("correction", "layout", (*_ALL, PLATE_CUT))

_HOLDS = holds()
_BY_ID = {limit.id: limit for limit in RULE.limits}
_MAKERS = {"web": "an I-joist or truss", "glued": "a glued beam"}


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each entry of new work through wood framing; no code has a number for sole plates."""
    for one in facts.passes:
        if is_new(one.run) and one.member.wood not in (None, "sole plate"):
            yield Subject(one.path, one.name, one.place, one)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether hole and notch stay within what the timber can take."""
    one: Passed = subject.thing
    kind = one.member.wood or ""
    if one.fished:
        return on_site("drawn through closed framing: look at the holes where they can be seen")
    if kind in _MAKERS:
        return on_site(f"{_MAKERS[kind]}: hold the hole against its maker's chart")
    from plancheck.timbers import faults_of, wants_strap

    faults = faults_of(one, facts, lambda id_: limits.of(_BY_ID[id_]))
    if faults:
        return _broken(one, faults, facts)
    if wants_strap(one):
        return on_site(
            f"over half of the plate is cut: look for the strap over it, of steel {facts.length(1.5 * INCH_M)} wide, 16 gauge (0.054 in)"
        )
    estimate = estimates(one.said.hole, one.said.edge, one.said.notch)
    return holds(estimate=estimate) if estimate else _HOLDS


def _broken(one: "Passed", faults: "list[Fault]", facts: Facts) -> Outcome:
    first = faults[0]
    worst = facts.family == "irc" or any(fault.everywhere for fault in faults)
    many = f"In each of {one.alike}: " if one.alike is not None and one.alike > 1 else ""
    return broken(
        capital(f"{many}{', and '.join(fault.says for fault in faults)}."),
        "correction" if worst else "advice",
        measured=length(first.found_m),
        limit=first.limit,
        needed="; ".join(fault.needed for fault in faults),
        mend=" ".join(dict.fromkeys(fault.mend for fault in faults)),
        ask="The framing inspector says how a timber that is already cut is repaired.",
        estimate=estimates(one.said.hole, one.said.edge, one.said.notch),
    )
