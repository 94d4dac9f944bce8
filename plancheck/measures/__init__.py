"""Reads every measure a plumber writes, and prints measures back. Three types that are never mixed:

a length, a nominal size (a name, never a diameter), and a quantity with its unit.
"""

from __future__ import annotations

from plancheck.measures.kinds import KINDS, Length, MeasureError, Quantity, Size
from plancheck.measures.lengths import read_length
from plancheck.measures.quantities import read_quantity
from plancheck.measures.show import show_length, show_quantity, write_length, write_quantity
from plancheck.measures.sizes import read_size, read_sizes
from plancheck.measures.systems import METRIC, US, Units, texts_in, unit_system

__all__ = [
    "KINDS",
    "METRIC",
    "US",
    "Length",
    "MeasureError",
    "Quantity",
    "Size",
    "Units",
    "read_length",
    "read_quantity",
    "read_size",
    "read_sizes",
    "show_length",
    "show_quantity",
    "texts_in",
    "unit_system",
    "write_length",
    "write_quantity",
]
