"""One call of `shutoff`: what goes dry when a valve closes, how a place is isolated, what is left of a ring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plancheck.calls import NOTHING
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.flowcalls import facts_in, put, show
from plancheck.isolate import Closing
from plancheck.record import NamedTuple
from plancheck.report.lines import HEAD, Line, print_lines
from plancheck.ringcuts import Cut, ring_cuts


class Call(NamedTuple):
    """The arguments of `shutoff`, as said."""

    plan: str
    valves: tuple[str, ...] = ()
    place: str | None = None
    fixture: str | None = None
    report: str = "screen"
    out: str | None = None
    today: str = ""


def print_shutoff(call: Call) -> int:
    """Prints or writes the answers on one plan. Raises Unreadable for a plan or a name that cannot be read."""
    facts = facts_in(call.plan, call.today)
    closing = Closing(facts)
    _check_names(call, closing)
    _check_out(call)
    points = _asked(call, closing)
    ways = closing.isolations(points)
    cuts, left_out = _cuts(call, closing)
    if call.report == "json":
        from plancheck.report.shutoffmachine import shutoff_json

        put(shutoff_json(closing, call.valves, points, ways, cuts, left_out), call.out)
        return NOTHING
    show(lambda console: print_lines(_lines(call, closing, cuts, left_out), console), call.out)
    return NOTHING


def _lines(call: Call, closing: Closing, cuts: Iterable[Cut], left_out: int) -> Iterator[Line]:
    from plancheck.report.shutofftext import closed_lines, isolation_lines, ring_lines, valve_lines, warning_lines

    facts = closing.facts
    yield facts.plan.job.title or facts.source.file, HEAD, 0
    if call.valves:
        yield from closed_lines(closing, call.valves)
    if call.place is not None or call.fixture is not None:
        points = _asked(call, closing)
        yield from isolation_lines(closing, _title(call, facts), points, closing.isolations(points))
    if not (call.valves or call.place or call.fixture):
        yield from valve_lines(closing)
    yield from ring_lines(closing, cuts, left_out)
    yield from warning_lines(closing)


def _title(call: Call, facts: Facts) -> str:
    names = (facts.place_name(call.place) if call.place else "", facts.part_name(call.fixture) if call.fixture else "")
    return " and ".join(filter(None, names))


def _asked(call: Call, closing: Closing) -> tuple[str, ...]:
    """The points to isolate: those of the place, of the fixture, or of both."""
    place = closing.in_place(call.place) if call.place is not None else ()
    part = closing.of_part(call.fixture) if call.fixture is not None else ()
    return tuple(dict.fromkeys((*place, *part)))


def _cuts(call: Call, closing: Closing) -> tuple[tuple[Cut, ...], int]:
    """All segments of all rings, or those that a named valve closes, and how many are left out; none where a place is asked."""
    if call.place is not None or call.fixture is not None:
        return (), 0
    return ring_cuts(closing, call.valves)


def _check_names(call: Call, closing: Closing) -> None:
    plan = closing.plan
    for valve in call.valves:
        _known(valve, closing.graph.valves, "valve", "plancheck shutoff PLAN lists them")
    if call.place is not None:
        _known(call.place, plan.places, "place", "name a place of the plan")
    if call.fixture is not None:
        parts = dict.fromkeys(point.partition("/")[0] for point in closing.points)
        _known(call.fixture, parts, "fixture or heater", "name a fixture of the plan")


def _check_out(call: Call) -> None:
    """Refuses to write over the plan, however it is spelled."""
    import os

    try:
        same = call.out is not None and os.path.samefile(call.plan, call.out)
    except (OSError, ValueError):  # not there yet, or no name of a file at all
        return
    if same:
        says = f"--out {call.out} is the plan itself: the report would take its place"
        raise Unreadable((Problem("the command line", 0, 0, says, "name another file; nothing was written"),))


def _known(name: str, names: Iterable[str], what: str, mend: str) -> None:
    from plancheck.building.notes import nearest

    known = list(names)
    if name not in known:
        problem = Problem("the command line", 0, 0, f"there is no {what} '{name}'", f"{nearest(name, known)}{mend}")
        raise Unreadable((problem,))
