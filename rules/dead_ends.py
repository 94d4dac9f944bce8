"""Pipe in which water never moves, and pipe that hangs in the air

Looks at: each branch with water in it that leads to nothing one draws from: how long it is from the last junction where water
    moves, and whether it has a valve there and an end that opens to flush it. And each run or part that no water
    reaches. Expansion tanks, arrestors, test ports, spare ports and circulating loops are no dead ends.
Why: water that stands warms up, loses its chlorine and grows what nobody wants to drink, and goes back into the line with
    every knock of pressure. A run that is joined to nothing is either forgotten or not yet made up.
To mend: cut it back to the tee, or to a foot or two; or put a valve at the tee and an end that opens, and drain it.
Cannot see: how seldom a guest bath is used (flush it weekly), pipe left in a wall that the plan does not draw.
Ask: the UPC of 2021 asks for a means of flushing (309.6); the IRC and IPC have no such sentence that is known here, some
    cities forbid unused ends outright.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    FOOT_M,
    GALLON_M3,
    GRACE_LENGTH_M,
    NONE,
    NOT_KNOWN,
    PRACTICE,
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
    length,
    listed,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.still import Dry, Still

DEAD_LEG = Limit(
    "dead_leg",
    "pipe to nothing one draws from, which cannot be flushed",
    "length",
    "at most",
    upc=(
        Value(2 * FOOT_M, PRACTICE, practice=True),
        Value(2 * FOOT_M, printed("UPC", "2021", "309.6, a means of flushing; the length is practice"), since=2021),
    ),
    practice=(Value(2 * FOOT_M, PRACTICE, practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(DEAD_LEG,))

_OUNCE_M3 = GALLON_M3 / 128


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each branch in which nothing moves; each group of runs and parts without water."""
    if facts.network.source is None:
        return
    from plancheck.still import dry_pieces, still_branches

    for still in still_branches(facts):
        path: Path = ("parts", still.end.id) if still.end is not None else ("runs", still.pieces[-1].run or "")
        place = still.end.place if still.end is not None else None
        yield Subject(path, f"dead branch at {still.junction}", place, still)
    for dry in dry_pieces(facts):
        path = ("runs", dry.runs[0]) if dry.runs else ("parts", dry.parts[0])
        yield Subject(path, f"water in {path[1]}", None, dry)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a branch is short or can be flushed; whether water reaches a group at all."""
    from plancheck.still import Still

    if isinstance(subject.thing, Still):
        return _still(subject.thing, facts, limits)
    return _dry(subject.thing, facts)


def _still(still: "Still", facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(DEAD_LEG)
    about = ", ".join(piece.about for piece in still.pieces if piece.about)
    opens = _opens(still)
    if still.valve is not None and opens:
        return holds("a valve at the junction, and an end that opens to flush it")
    if still.length_m <= limit.number + GRACE_LENGTH_M:
        if still.missing is not None:
            raise NotShown(still.missing, "how long the dead branch is")
        return holds("", length(still.length_m), limit, about)
    if still.valve is not None and opens is None and still.end is not None:
        raise NotShown(("parts", still.end.id, "end"), "whether its end opens to flush it (end: cap or plug)")
    return _too_long(still, facts, limits, about)


def _too_long(still: "Still", facts: Facts, limits: Limits, about: str) -> Outcome:
    limit = limits.of(DEAD_LEG)
    runs = [facts.plan.runs[piece.run] for piece in still.pieces if piece.run is not None]
    old = all(not is_new(run) for run in runs)
    future = still.end is not None and still.end.is_ == "stub-out"
    shown, most = facts.length(still.length_m), facts.length(limit.number)
    name = facts.part_name(still.end.id) if still.end is not None else runs[-1].id
    mend = f"Cut it back to the tee, or cap it within {most} of {still.junction}."
    if future:
        mend = f"Put a valve at {still.junction}, an end that opens on the stub-out, and drain it until it is used."
    return broken(
        f"{shown} of pipe lead from {still.junction} to {name}, from which nobody draws, with "
        f"{_volume(still.volume_m3, facts)} of still water.",
        "advice" if old or future else "correction",
        measured=length(still.length_m),
        limit=limit,
        needed=f"at most {most}, or a valve at the junction and an end that opens",
        mend=mend,
        estimate=about,
    )


def _opens(still: "Still") -> bool | None:
    """Whether the end opens to flush: a stub-out with a cap or plug; None where nobody says."""
    if still.end is None or still.end.is_ == "cap":
        return False
    said = getattr(still.end.own, "end", None)
    return None if said in (None, NOT_KNOWN) else said != NONE


def _volume(m3: float, facts: Facts) -> str:
    return f"{m3 / _OUNCE_M3:.0f} oz" if facts.units.volume == "gal" else facts.quantity(m3, "volume")


def _dry(dry: "Dry", facts: Facts) -> Outcome:
    plan = facts.plan
    new = [run for run in dry.runs if is_new(plan.runs[run])] + [part for part in dry.parts if is_new(plan.parts[part])]
    if not new:
        return on_site("old pipe without water: prove it dry and see that it is cut loose at both ends")
    dry_ones = [*dry.runs, *dry.parts]
    names = listed(dry_ones)
    layout = facts.stage == "layout"
    return broken(
        f"No water reaches {names}: nothing joins {'them' if len(dry_ones) > 1 else 'it'} to the source or a heater.",
        "advice" if layout else "correction",
        found="not joined yet" if layout else "joined to nothing with water",
        needed="joined to the line it belongs to, or taken out of the plan",
        mend=f"Join {dry_ones[0]} to its line, or take it out of the plan; write `work: removed` on pipe that is cut loose.",
    )
