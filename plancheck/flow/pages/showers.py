"""The shower when something else opens: every other draw, and every combination weighted by use."""

from plancheck.flow.combos import over_all
from plancheck.flow.compensated import compensated, compensates
from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture
from plancheck.flow.pages.largest import least_left, strongest
from plancheck.flow.pages.table import Cell, Column, Gaps, Table, not_shown
from plancheck.flow.shower import Mixed, showers, swing, trimmed

SCALD_C = (120.0 - 32.0) / 1.8
BAND_K = 3.6 / 1.8
MOST_SHOWERS = 10


def showers_tables(flow: Flow, gaps: Gaps) -> list[Table]:
    """For every shower a table, one other draw a row, with what all combinations come to.

    Of more than MOST_SHOWERS those that have least left at peak, and how many are left out.
    """
    found = []
    every = showers(flow)
    shown = least_left(flow, every, MOST_SHOWERS)
    for fixture in shown:
        before, missing, why = trimmed(flow, fixture)
        if missing is not None:
            gaps.add(*missing)
        id_, title = f"shower {fixture.part}", f"{flow.facts.part_name(fixture.part)} when something else opens"
        found.append(not_shown(id_, title, why) if before is None else _table(flow, fixture, before, id_, title))
    if len(shown) < len(every):
        words = (
            f"{len(every) - len(shown)} more showers are not shown: those above have least left at peak as a network."
        )
        found.append(Table("other showers", "Other showers when something else opens", says=(words,)))
    return found


def _table(flow: Flow, fixture: Fixture, before: Mixed, id_: str, title: str) -> Table:
    kind = compensates(flow, fixture)
    others, left_out = strongest(flow, fixture)
    rows = [row for edge in others if (row := _row(flow, fixture, edge, before, kind)) is not None]
    hottest = max((row[4] for row in rows if isinstance(row[4], float)), default=before.celsius)
    says = [over_all(flow, fixture, before, BAND_K).words(flow.facts)]
    if before.share >= 1.0:
        says.append(f"Its hot water comes at {flow.facts.degrees(before.celsius)}: no mix is warmer.")
    if left_out:
        says.append(f"{left_out} more draws are not shown: on its way they pull less than these.")
    if hottest > SCALD_C:
        says.append(_scald(flow, hottest))
    return Table(id_, title, _columns(kind), tuple(rows), tuple(says), (_note(flow, before, kind),))


def _columns(kind: str | None) -> tuple[Column, ...]:
    return (
        Column("opens"),
        Column("flow before", "flow"),
        Column("after", "flow"),
        Column("temperature before", "whole degrees"),
        Column("after", "whole degrees"),
        Column("change", "degrees apart"),
        *((Column("with its valve", "whole degrees"), Column("flow then", "flow")) if kind else ()),
    )


def _row(flow: Flow, fixture: Fixture, edge: str, before: Mixed, kind: str | None) -> tuple[Cell, ...] | None:
    """What opening an edge does to the shower; None where there is no answer. kind: of its valve that compensates."""
    found = swing(flow, fixture, edge, before)
    if found.after is None:
        return None
    after = found.after
    row: tuple[Cell, ...] = (edge, before.flow_m3s, after.flow_m3s, before.celsius, after.celsius, found.change_c)
    if not kind:
        return row
    held = compensated(flow, fixture, edge, before, kind)
    return (*row, *((held.mixed.celsius, held.mixed.flow_m3s) if held.mixed else (held.says, None)))


def _scald(flow: Flow, hottest_c: float) -> str:
    facts = flow.facts
    return (
        f"Scald: {facts.degrees(hottest_c)} burns in {facts.burns_in(hottest_c)}, children and the old sooner. A listed "
        "valve (ASSE 1016) set and measured on site is what protects."
    )


def _note(flow: Flow, before: Mixed, kind: str | None) -> str:
    note = (
        f"Set to {flow.facts.degrees(before.celsius)} with all else shut; without compensation, as a plain valve gives it. "
        "How the valve is cut may halve or double the change."
    )
    if kind:
        note += (
            f" With its valve: as its {kind} valve brings it back, in at most 20 rounds, within what its listing tests."
        )
    return note
