"""Fixture units that a meter and a service carry, by pressure and length: the table of the UPC (610.4, read)."""

from math import floor

from plancheck.measures.units import FOOT_M, INCH_M, PSI_PA
from plancheck.record import NamedTuple

LENGTHS_FT = (40, 60, 80, 100, 150, 200)
_GRACE_M = INCH_M / 16.0
_NEAR = 0.06  # of an inch: 20 mm tube counts as 3/4


class Row(NamedTuple):
    """One row: nominal sizes of meter and pipe, inches, and the fixture units at each length."""

    meter: float
    pipe: float
    units: tuple[int, ...]


class Cell(NamedTuple):
    """Where the table is entered. low: psi at which its range begins; column: of the length; inside: whether the table
    goes so far at all (else the nearest cell, which allows more than such a house may have)."""

    low: int
    column: int
    inside: bool = True

    @property
    def range_psi(self) -> tuple[int, int | None]:
        """The range of pressures, psi; None where it has no upper end."""
        return self.low, {30: 45, 46: 60}.get(self.low)

    @property
    def length_m(self) -> float:
        """The length of the column."""
        return LENGTHS_FT[self.column] * FOOT_M


_ROWS = {
    30: (Row(0.75, 0.5, (6, 5, 4, 3, 2, 1)), Row(0.75, 0.75, (16, 16, 14, 12, 9, 6)),
         Row(0.75, 1.0, (29, 25, 23, 21, 17, 15)), Row(1.0, 1.0, (36, 31, 27, 25, 20, 17)),
         Row(1.0, 1.25, (54, 47, 42, 38, 32, 28))),
    46: (Row(0.75, 0.5, (7, 7, 6, 5, 4, 3)), Row(0.75, 0.75, (20, 20, 19, 17, 14, 11)),
         Row(0.75, 1.0, (39, 39, 36, 33, 28, 23)), Row(1.0, 1.0, (39, 39, 39, 36, 30, 25)),
         Row(1.0, 1.25, (78, 78, 76, 67, 52, 44))),
    60: (Row(0.75, 0.5, (7, 7, 7, 6, 5, 4)), Row(0.75, 0.75, (20, 20, 20, 20, 17, 13)),
         Row(0.75, 1.0, (39, 39, 39, 39, 35, 30)), Row(1.0, 1.0, (39, 39, 39, 39, 38, 32)),
         Row(1.0, 1.25, (78, 78, 78, 78, 74, 62))),
}  # fmt: skip


def cell_of(pressure_pa: float, length_m: float) -> Cell:
    """The cell for a pressure, taken in whole psi as the table prints it, and a length, at the next larger column."""
    psi = floor(pressure_pa / PSI_PA + 0.5)
    low = 30 if psi <= 45 else 46 if psi <= 60 else 60
    column = next((place for place, feet in enumerate(LENGTHS_FT) if length_m <= feet * FOOT_M + _GRACE_M), None)
    if column is None:
        return Cell(low, len(LENGTHS_FT) - 1, False)
    return Cell(low, column, psi >= 30)


def most_units(cell: Cell, meter: float, pipe: float) -> int:
    """What a meter and a pipe carry; nominal inches."""
    rows = [row for row in _ROWS[cell.low] if row.meter <= meter + 0.01 and row.pipe <= pipe + _NEAR]
    return max((row.units[cell.column] for row in rows), default=0)


def enough_for(cell: Cell, units: float, pipe: float) -> Row | None:
    """The smallest row, no smaller than the pipe, that carries the units."""
    rows = (row for row in _ROWS[cell.low] if row.pipe >= pipe - _NEAR and row.units[cell.column] >= units - 0.01)
    return next(rows, None)
