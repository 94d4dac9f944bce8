"""Ports left over are shut and capped

Looks at: each port of a manifold that no run and no part hangs on, the feed, section valves and test ports apart: a spare
    one has its valve, a cap or plug, and stands closed; a circuit nobody drew is told. A run that is taken out leaves its
    port over. A spare port with a run on it is misnamed.
Why: an open port floods the room with the first water. Behind a valve alone, somebody turns the wrong handle one day; behind a
    cap alone, the house is shut and drained before the port can be used.
To mend: a valve left closed and a cap or plug behind it; use: spare says that it is meant so.
Cannot see: whether the cap is tight, and how a valve really stands.
Ask: no model code speaks of ports left over; the maker of a bought manifold says what may close them.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Path,
    Port,
    Rule,
    Subject,
    broken,
    holds,
    is_new,
    on_site,
)

RULE = Rule("hazard", "layout", ())

_NEEDED = "a valve left closed, and a cap or plug behind it"
_FLOODS = "With the first water it floods the room."


class Left(NamedTuple):
    """A port, its manifold, and whether something hangs on it."""

    part: Part
    port: Port
    used: bool
    name: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each port nothing hangs on; each spare one that something does."""
    rows = [part for part in facts.plan.parts.values() if isinstance(part.own, ManifoldOwn) and part.work != "removed"]
    used = _used(facts) if rows else frozenset()
    for part in rows:
        for port in part.own.ports.values() if isinstance(part.own, ManifoldOwn) else ():
            if port.use in ("feed", "test", "section"):
                continue
            taken = (part.id, port.id) in used
            if not taken or port.use == "spare":
                name = f"{part.id}/{port.id}"
                yield Subject(("parts", part.id, "ports", port.id), name, part.place, Left(part, port, taken, name))


def _used(facts: Facts) -> frozenset[tuple[str, str]]:
    """Each connection on which a run or another part hangs."""
    plan = facts.plan
    ends = [ref for run in plan.runs.values() if run.work != "removed" for ref in (run.from_, run.to)]
    ends += [part.onto for part in plan.parts.values() if part.work != "removed"]
    return frozenset((ref.part, ref.connection) for ref in ends if ref is not None and ref.connection is not None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a port left over is shut and capped."""
    left: Left = subject.thing
    if left.used:
        return broken(
            f"{left.name} is called spare, and something hangs on it.",
            "advice",
            found="spare, with a run",
            needed="a use that says what it is for",
            mend="Call it a circuit (leave `use` out), or take the run off.",
        )
    if not is_new(left.part):
        return on_site("old manifold: see that the port is shut and capped")
    path = subject.path
    if left.port.use == NOT_KNOWN:
        raise NotShown((*path, "use"), "what the port is for (use: spare, or a run that leaves it)")
    return _spare(left, path, facts) if left.port.use == "spare" else _circuit(left, path, facts)


def _spare(left: Left, path: Path, facts: Facts) -> Outcome:
    """A port that is meant to be left over."""
    port = left.port
    if port.end == NONE:
        return _uncapped(left, path, facts)
    if port.end in (None, NOT_KNOWN):
        raise NotShown((*path, "end"), "what closes its end (end: cap or plug)")
    if port.valve == NONE:
        return broken(
            f"{left.name} has a {port.end} and no valve.",
            "advice",
            found=f"a {port.end}, no valve",
            needed=_NEEDED,
            why="To use it, the house is shut and drained first. A bought manifold may come so; it is no danger.",
            mend="Put a valve in, and the cap or plug behind it.",
        )
    if port.normally == "open":
        return broken(
            f"{left.name} is left open behind its {port.end}.",
            "advice",
            found="left open",
            needed=_NEEDED,
            mend="Close the valve, and write it so (`normally: closed`).",
        )
    _told(port.valve, (*path, "valve"), "its valve (valve: ball, or none)")
    _told(port.normally, (*path, "normally"), "how its valve is left (normally: closed)")
    return holds(f"closed, with a {port.end}")


def _told(value: str | None, path: Path, what: str) -> None:
    if value is None or value == NOT_KNOWN:
        raise NotShown(path, what)


def _uncapped(left: Left, path: Path, facts: Facts) -> Outcome:
    """Nothing in the end: a danger where no closed valve is left either."""
    _told(left.port.valve, (*path, "valve"), "its valve (valve: ball, or none)")
    bare = left.port.valve == NONE
    floods = bare or left.port.normally == "open"
    found = "neither valve nor cap" if bare else "an open valve, and nothing closes its end" if floods else ""
    return broken(
        f"{left.name} has {found or 'a valve, and nothing closes its end'}.",
        "hazard" if floods and facts.stage != "layout" else "correction",
        found=found or "a valve, no cap",
        needed=_NEEDED,
        why=_FLOODS if floods else "A handle turned by mistake floods the room.",
        mend="Put in a valve and a plug; leave the valve closed."
        if bare
        else "Screw in a plug; leave the valve closed.",
        caution="Do not open the water before it is closed." if floods else "",
    )


def _circuit(left: Left, path: Path, facts: Facts) -> Outcome:
    """A port for a run that nobody drew."""
    port = left.port
    if facts.stage == "layout" and port.end not in ("cap", "plug"):
        return broken(
            f"{left.name} is drawn for a run, and no run leaves it.",
            "advice",
            found="no run",
            needed="its run, or use: spare with a cap or plug",
            mend="Draw its run, or call it spare and say what closes it.",
        )
    if port.end == NONE:
        return _uncapped(left, path, facts)
    if port.end in (None, NOT_KNOWN):
        raise NotShown((*path, "end"), "the run that leaves it, or what closes its end (end: cap or plug)")
    return holds(f"a {port.end} in its end; call it spare (use: spare)")
