"""The shower when something else opens: every other draw, and every combination weighted by use."""

from plancheck.flow.combos import over_all
from plancheck.flow.compensated import compensated, compensates
from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.flow.shower import Mixed, showers, swing, trimmed

SCALD_C = (120.0 - 32.0) / 1.8
BAND_K = 3.6 / 1.8


def showers_tables(flow: Flow, gaps: Gaps) -> list[Table]:
    """For every shower a table, one other draw a row, with what all combinations come to."""
    found = []
    for fixture in showers(flow):
        before, missing, why = trimmed(flow, fixture)
        if missing is not None:
            gaps.add(*missing)
        if before is None:
            says = (f"{fixture.part}: not shown{f' ({why})' if why else ''}.",)
            found.append(Table(f"shower {fixture.part}", _title(flow, fixture), says=says))
            continue
        found.append(_table(flow, fixture, before))
    return found


def _title(flow: Flow, fixture: Fixture) -> str:
    return f"{flow.facts.part_name(fixture.part)} when something else opens"


def _table(flow: Flow, fixture: Fixture, before: Mixed) -> Table:
    facts, kind = flow.facts, compensates(flow, fixture)
    columns = (
        Column("opens"),
        Column("flow before", "flow"),
        Column("after", "flow"),
        Column("temperature before", "whole degrees"),
        Column("after", "whole degrees"),
        Column("change", "degrees apart"),
        *((Column("with its valve", "whole degrees"), Column("flow then", "flow")) if kind else ()),
    )
    rows: list[tuple[Cell, ...]] = []
    hottest = before.celsius
    for other in flow.house.fixtures.values():
        if other.part == fixture.part:
            continue
        for edge in other.sides.values():
            found = swing(flow, fixture, edge, before)
            if found.after is None:
                continue
            hottest = max(hottest, found.after.celsius)
            row: tuple[Cell, ...] = (
                edge, before.flow_m3s, found.after.flow_m3s, before.celsius, found.after.celsius, found.change_c
            )  # fmt: skip
            if kind:
                held = compensated(flow, fixture, edge, before, kind)
                row = (*row, *((held.mixed.celsius, held.mixed.flow_m3s) if held.mixed else (held.says, None)))
            rows.append(row)
    says = [over_all(flow, fixture, before, BAND_K).words(facts)]
    if hottest > SCALD_C:
        says.append(
            f"Scald: {facts.degrees(hottest)} burns in {facts.burns_in(hottest)}, children and the old sooner. A listed "
            "valve (ASSE 1016) set and measured on site is what protects."
        )
    note = (
        f"Set to {facts.degrees(before.celsius)} with all else shut; without compensation, as a plain valve gives it. "
    )
    note += "How the valve is cut may halve or double the change."
    if kind:
        note += (
            f" With its valve: as its {kind} valve brings it back, in at most 20 rounds, within what its listing tests."
        )
    return Table(f"shower {fixture.part}", _title(flow, fixture), columns, tuple(rows), tuple(says), (note,))
