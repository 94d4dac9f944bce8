"""One call of `gauge`: readings beside what the plan predicts, and what would explain the difference."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.calls import NOTHING
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.flowcalls import facts_in, show
from plancheck.measures import MeasureError, Quantity, read_quantity
from plancheck.model import NONE, PressureTest, Ref
from plancheck.record import NamedTuple
from plancheck.report.lines import HEAD, PLAIN, STATION, Line, print_lines

if TYPE_CHECKING:
    from plancheck.flow.causes import Cause

_PSI = 6894.757293168
_NO_DIAGNOSIS = (
    "This is no diagnosis: what would explain a reading is to be checked on site. Let the pressure out before anything is "
    "opened; hot water scalds."
)
STANDING_BAND_PA, RUNNING_SHARE = 3.0 * _PSI, 0.25  # common practice, as the rule gauge_reading has them


class Call(NamedTuple):
    """The arguments of `gauge`, as said."""

    plan: str
    reads: str | None = None
    at: str | None = None
    open_: str | None = None
    before: str | None = None
    after: str | None = None
    out: str | None = None
    today: str = ""


class Asked(NamedTuple):
    """One reading to look at: its name, where, which fixtures (parts) were open, what the gauge read."""

    name: str
    at: Ref
    opened: tuple[str, ...]
    reads: Quantity


def print_gauge(call: Call) -> int:
    """Prints the readings beside the predictions. Raises Unreadable for a plan or an argument that cannot be read."""
    lines = list(_lines(call, facts_in(call.plan, call.today)))
    show(lambda console: print_lines(lines, console), call.out)
    return NOTHING


def _lines(call: Call, facts: Facts) -> Iterator[Line]:
    """All there is to say: of each reading, then of each test that fell."""
    asked, temperatures = list(_asked(call, facts)), _temperatures(call)
    yield facts.plan.job.title or facts.source.file, HEAD, 2
    if not asked and not _tests(facts):
        yield "The plan has no reading under `measured`; give one with --reads '52 psi'.", PLAIN, 2
    for one in asked:
        yield from ((text, style, 2) for text, style in reading_lines(facts, one))
    for test in _tests(facts):
        yield from ((text, PLAIN, 2) for text in test_lines(facts, test, temperatures))
    yield "", PLAIN, 2
    yield _NO_DIAGNOSIS, PLAIN, 2


def _asked(call: Call, facts: Facts) -> Iterator[Asked]:
    if call.reads is not None:
        yield Asked("the gauge", _at(call, facts), _opened(call.open_, facts), _pressure(call.reads))
        return
    for reading in facts.plan.measured.values():
        at = facts.flow.connection(reading.at or "")
        if at is None or not isinstance(reading.reads, Quantity) or reading.reads.kind != "pressure":
            continue
        opened = reading.open if isinstance(reading.open, tuple) else ()
        yield Asked(reading.id, at, opened, reading.reads)


def _pressure(text: str) -> Quantity:
    try:
        return read_quantity(text, "pressure")
    except MeasureError as wrong:
        raise _unread("--reads", str(wrong), "write the pressure with its unit: --reads '52 psi'") from None


def _unread(where: str, says: str, mend: str) -> Unreadable:
    return Unreadable((Problem(where, 0, 0, says, mend),))


def _at(call: Call, facts: Facts) -> Ref:
    from plancheck.building.notes import nearest
    from plancheck.building.refs import connections
    from plancheck.flow.pages.gauges import ports_of

    if call.at is None:
        ports = ports_of(facts.flow)
        if not ports:
            raise _unread("--at", "the plan has no test port", "say where the gauge was put on: --at cold-ring/F")
        return max(ports, key=lambda ref: facts.plan.parts[ref.part].is_ == "manifold")
    found = facts.flow.connection(call.at)
    if found is None:
        name = call.at.partition("/")[0]
        raise _unread(
            "--at", f"there is no part '{name}'", f"{nearest(name, facts.plan.parts)}name a part, or part/connection"
        )
    known = connections(facts.plan.parts[found.part])
    if found.connection not in known:
        mend = f"{nearest(found.connection, known)}it has {', '.join(known)}"
        raise _unread("--at", f"{found.part} has no connection '{found.connection}'", mend)
    return found


def _opened(said: str | None, facts: Facts) -> tuple[str, ...]:
    from plancheck.building.notes import nearest

    found = tuple(name.strip() for name in (said or "").split(",") if name.strip() and name.strip() != NONE)
    for name in found:
        if name not in facts.flow.house.fixtures:
            mend = f"{nearest(name, facts.flow.house.fixtures)}name fixtures of the plan, with commas"
            raise _unread("--open", f"there is no fixture '{name}'", mend)
    return found


def _temperatures(call: Call) -> tuple[float, float] | None:
    if call.before is None and call.after is None:
        return None
    if call.before is None or call.after is None:
        raise _unread(
            "--before, --after", "one of the two is missing", "give the temperature before the test and after"
        )
    try:
        return read_quantity(call.before, "temperature").si, read_quantity(call.after, "temperature").si
    except MeasureError as wrong:
        raise _unread(
            "--before, --after", str(wrong), "write the temperatures with their unit: --before '70 degF'"
        ) from None


def reading_lines(facts: Facts, asked: Asked) -> Iterator[tuple[str, str]]:
    """What there is to say of one reading: lines with their style."""
    flow = facts.flow
    with_what = f"with {', '.join(asked.opened)} open" if asked.opened else "with everything shut"
    where = asked.at.part if asked.at.connection == "in" else str(asked.at)
    yield "", ""
    yield f"{asked.name} at {where}, {with_what}: {asked.reads.text}", STATION
    found = flow.predicted(asked.at, asked.opened)
    if found.missing is not None:
        key = "".join(f"/{step}" for step in found.missing.path).strip("/").replace("/", ".")
        yield f"No prediction: the plan does not say {found.missing.what} ({key}).", ""
        return
    if found.why:
        yield f"No prediction: {found.why}.", ""
        return
    band = STANDING_BAND_PA + RUNNING_SHARE * found.friction_pa
    low, high = (facts.quantity(found.pa + way * band, "pressure") for way in (-1, 1))
    yield f"Expected {facts.quantity(found.pa, 'pressure')} ({low} to {high}).", ""
    if abs(asked.reads.si - found.pa) <= band:
        yield "Inside the band: nothing to explain.", ""
        return
    yield from _explained(facts, asked, found.pa, band)


def _explained(facts: Facts, asked: Asked, expected_pa: float, band: float) -> Iterator[tuple[str, str]]:
    from plancheck.flow.apart import next_port, told_apart
    from plancheck.flow.causes import causes

    way = "lower" if asked.reads.si < expected_pa else "higher"
    found = causes(facts.flow, asked.at, asked.opened, asked.reads.si, expected_pa, band)
    yield f"It reads {way} than expected by {facts.quantity(abs(asked.reads.si - expected_pa), 'pressure')}.", ""
    if not found:
        yield "No single cause that is carried explains it: read again, and look for two at once.", ""
        return
    yield "Single causes that would explain it, the likeliest first, each solved again:", ""
    for number, cause in enumerate(found[:8], 1):
        left = f"; leaves {facts.quantity(cause.off_pa, 'pressure')} unexplained" if cause.off_pa > 0.5 * _PSI else ""
        yield f"  {number}. {cause.words}{left}. Check on site: {cause.at}.", ""
    apart = told_apart(facts.flow, asked.at, asked.opened, found)
    if apart is not None:
        what = f"{', '.join(apart.opened)} alone open" if apart.opened else "everything shut"
        yield f"To tell them apart read the same gauge with {what}:", ""
        for words, pa in apart.readings:
            yield f"  {facts.quantity(pa, 'pressure')} if {_short(words, found)}", ""
    port = next_port(facts.flow, asked.at, found)
    if port is not None:
        yield f"Then close {port} and read again: if the gauge moves, it lies behind that valve.", ""


def _short(words: str, found: list[Cause]) -> str:
    number = next((number for number, cause in enumerate(found, 1) if cause.words == words), 0)
    return f"{number}. ({words.partition(':')[0].partition('(')[0].strip()})"


def _tests(facts: Facts) -> list[PressureTest]:
    tests = facts.plan.tests
    return list(tests.values()) if isinstance(tests, dict) else []


def test_lines(facts: Facts, test: PressureTest, temperatures: tuple[float, float] | None) -> Iterator[str]:
    """What there is to say of a pressure test that fell."""
    from plancheck.flow.testdrop import STRETCH_SOURCE, fall_of

    if not all(isinstance(one, Quantity) for one in (test.start, test.end, test.held)):
        return
    start, end, held = test.start, test.end, test.held
    assert isinstance(start, Quantity) and isinstance(end, Quantity) and isinstance(held, Quantity)
    if start.si - end.si <= 0.5 * _PSI:
        return
    medium = test.medium or "water"
    yield ""
    yield f"Pressure test {test.id}: {start.text} fell to {end.text} in {held.text} ({medium})."
    before, after = temperatures if temperatures is not None else (None, None)
    fall = fall_of(start.si, end.si, held.si, medium, before, after)
    if fall.by_temperature_pa is not None:
        yield f"  Cooling of the air accounts for {facts.quantity(fall.by_temperature_pa, 'pressure')} of it."
    elif medium != "water":
        yield "  What cooling accounts for is not known: give --before '70 degF' --after '62 degF'."
    else:
        yield "  Water in tube moves with its temperature either way: repeat the test at one temperature."
    yield (
        f"  Stretch of the tube may account for {facts.quantity(fall.stretch_pa, 'pressure')} in this time ({STRETCH_SOURCE}; "
        "read for air, taken for any medium)."
    )
    if fall.left_pa > 0.5 * _PSI:
        yield f"  {facts.quantity(fall.left_pa, 'pressure')} is left: look for a leak on site before anything is closed in."
    else:
        yield "  Nothing is left over: pump up again and watch; the inspector decides."
