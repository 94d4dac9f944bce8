"""A nominal size as one speaks of it, and the units it is told beside."""

from __future__ import annotations

import pytest

from plancheck.measures import read_size
from plancheck.measures.sizes import size_named
from plancheck.measures.units import FOOT_M, GALLON_M3, GPM_M3S, INCH_M, PSI_PA


@pytest.mark.parametrize(
    ("said", "words"), [("3/4", "3/4 in"), ('1-1/4"', "1-1/4 in"), ("16 mm", "16 mm"), ("DN20", "DN20")]
)
def test_a_size_carries_its_unit(said: str, words: str) -> None:
    assert read_size(said).words == words


@pytest.mark.parametrize(("inches", "words"), [(0.75, "3/4 in"), (1.25, "1-1/4 in"), (2.0, "2 in"), (0.9, "0.9 in")])
def test_nominal_inches_in_words(inches: float, words: str) -> None:
    assert size_named(inches) == words


def test_units_are_what_they_are_by_definition() -> None:
    """25.4 mm, a pound of 0.45359237 kg under 9.80665 m/s2, 231 cubic inches (NIST SP 811, appendix B, from memory)."""
    assert pytest.approx(0.0254, rel=1e-12) == INCH_M
    assert pytest.approx(12 * 0.0254, rel=1e-12) == FOOT_M
    assert pytest.approx(6894.757293168361, rel=1e-12) == PSI_PA
    assert pytest.approx(3.785411784e-3, rel=1e-12) == GALLON_M3
    assert pytest.approx(3.785411784e-3 / 60, rel=1e-12) == GPM_M3S
