"""A last stretch of pipe under its table size: told, or let pass as a short line of its own from a manifold."""

from __future__ import annotations

from plancheck.answers import (
    GRACE_LENGTH_M,
    GRACE_PRESSURE_PA,
    at_least,
    at_most,
    broken,
    capital,
    holds,
    is_new,
    length,
    on_site,
)
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.measures.sizes import size_named
from plancheck.model import FixtureOwn, Part, Path
from plancheck.outcomes import HOLDS, Measured, Outcome
from plancheck.ownlines import Line, length_of, pressure_of, size_words
from plancheck.record import NamedTuple

_SIZES = (0.25, 0.375, 0.5, 0.75, 1.0)  # nominal inches of fixture supplies
_SAME = 0.01  # inches by which two names may differ and be the same


class Thin(NamedTuple):
    """A stretch under its table size: the fixture and its side in words, the run that is smallest and what it counts as."""

    part: Part
    name: str
    line: Line
    run: str
    rank: float
    limit: InForce


class OwnLimits(NamedTuple):
    """What the code says of a line of its own: a least size, or how many sizes under the table; length and pressure."""

    size: InForce | None
    steps: InForce | None
    length: InForce | None
    pressure: InForce | None


def judge_thin(found: Thin, own: OwnLimits, facts: Facts) -> Outcome:
    """A stretch under the table: as a line of its own it may do. Raises NotShown where it hangs on what is not said."""
    if not found.line.own:
        return _broken(found, facts)
    if own.size is None and own.steps is None and facts.family is None:
        raise NotShown(("code", "family"), "the code the job is built under (irc, ipc or upc)")
    if own.size is not None and found.rank < own.size.number - _SAME:
        return _broken(found._replace(limit=own.size), facts)
    steps = own.steps.number if own.steps is not None else 0.0
    if own.size is None and found.rank < _down(found.limit.number, steps) - _SAME:
        return _broken(found, facts)
    outcome = _short_and_strong(found, own, facts)
    style = found.part.own.style if isinstance(found.part.own, FixtureOwn) else None
    if outcome.kind == HOLDS and style == "one piece":
        return on_site("a one-piece toilet on a thin line of its own: see what its maker asks for")
    return outcome


def _down(inches: float, steps: float) -> float:
    """So many sizes smaller."""
    sizes = _SIZES
    at = max((number for number, one in enumerate(sizes) if one <= inches + _SAME), default=0)
    return sizes[max(at - round(steps), 0)]


def _short_and_strong(found: Thin, own: OwnLimits, facts: Facts) -> Outcome:
    """Whether a smaller line of its own is short enough, at pressure enough."""
    most, least = own.length, own.pressure
    if most is None or least is None:
        return _broken(found, facts)
    run_m, pressure = length_of(facts, found.line), pressure_of(facts, found.line)
    if not at_most(run_m.si, most.number, GRACE_LENGTH_M):
        return _long(found, run_m.si, run_m.about, facts, most)
    if not at_least(pressure.si, least.number, GRACE_PRESSURE_PA):
        return _weak(found, pressure.si, pressure.about, facts, least)
    for missing in (run_m.missing, pressure.missing):
        if missing is not None:
            raise missing
    about = ", ".join(filter(None, (run_m.about, pressure.about)))
    return holds("a short line of its own", length(run_m.si), most, about)


def _words(found: Thin, facts: Facts) -> tuple[str, str, str, str]:
    """The fixture's side, its tube's size, the table's size, and how heavy it weighs."""
    tube = facts.plan.tubes[facts.plan.runs[found.run].tube or ""]
    name = found.name
    severity = "correction" if is_new(facts.plan.runs[found.run]) else "advice"
    need = found.limit.number
    return capital(name), size_words(tube), size_named(need), severity


def _cause(found: Thin) -> Path | None:
    """A second outlet of a stop follows from the pipe to the first."""
    return ("runs", found.run) if found.line.second else None


def _broken(found: Thin, facts: Facts) -> Outcome:
    name, size, need, severity = _words(found, facts)
    why = ""
    if facts.family in ("irc", "ipc") and not found.line.own:
        why = "Only a line from a manifold to one outlet alone may be smaller; this one is shared or branches off."
    return broken(
        f"{name}: {found.run} is {size}; at least {need}.",
        severity,
        measured=Measured(found.rank, "count"),
        limit=found.limit,
        found=size,
        needed=f"at least {need}",
        why=why,
        mend=f"Run {' and '.join(found.line.runs)} in {need}.",
        cause=_cause(found),
        at=("runs", found.run) if not found.line.second else None,
    )


def _long(found: Thin, run_m: float, about: str, facts: Facts, limit: InForce) -> Outcome:
    name, size, need, severity = _words(found, facts)
    has, most, over = limit.told_apart(run_m, facts.units)
    return broken(
        f"{name}: {size} line of its own, {has}; {size} is allowed to {most}.",
        severity,
        measured=length(run_m),
        limit=limit,
        found=f"{size}, {has}",
        needed=f"at most {most}, or {need}",
        mend=f"Run it in {need}, or move the port {over} nearer.",
        at=("runs", found.run),
        estimate=about,
    )


def _weak(found: Thin, pa: float, about: str, facts: Facts, limit: InForce) -> Outcome:
    name, size, need, severity = _words(found, facts)
    has, least = facts.quantity(pa, "pressure"), facts.quantity(limit.number, "pressure")
    return broken(
        f"{name}: {size} line of its own at {has}; {size} is allowed from {least} on.",
        severity,
        measured=Measured(pa, "pressure"),
        limit=limit,
        found=f"{size} at {has}",
        needed=f"at least {least}, or {need}",
        mend=f"Run it in {need}.",
        at=("runs", found.run),
        estimate=about,
    )
