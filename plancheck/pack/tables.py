"""Tables of answers as grids of text, in the plan's own units."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.flow.pages.table import Table
from plancheck.measures.units import FOOT_M
from plancheck.pack.blocks import Grid
from plancheck.report.flowcells import heading, text_of


def grid_of(table: Table, facts: Facts) -> Grid:
    """A table of answers as a grid."""
    columns = tuple(heading(column, facts) for column in table.columns)
    rows = tuple(
        tuple(text_of(cell, column, facts) for cell, column in zip(row, table.columns, strict=True)) for row in table.rows
    )
    figures = frozenset(place for place, column in enumerate(table.columns) if column.kind != "text")
    return Grid(table.title, columns, rows, figures, notes=(*table.says, *table.notes))


def about(length_m: float, facts: Facts) -> str:
    """A length added up, in whole feet or tenths of a metre: it is no surer than that."""
    return f"{length_m / FOOT_M:.0f} ft" if facts.units.length == "ft-in" else f"{length_m:.1f} m"
