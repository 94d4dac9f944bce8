"""Figures a finding asks for, in steps one works to and to the safe side; the expected ones are reckoned by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plancheck.measures import METRIC, US, Units, show_length, show_quantity
from plancheck.measures.steps import stepped_down, stepped_up

FOOT, GPM, PSI, BTU_H = 0.3048, 6.30901964e-5, 6894.757293168, 0.29307107


@pytest.mark.parametrize(
    ("si", "kind", "units", "down", "up"),
    [
        (54.47 * FOOT, "length", US, "54 ft", "55 ft"),
        (54 * FOOT, "length", US, "54 ft", "54 ft"),
        (0.27 * FOOT, "length", US, "3 in", "4 in"),
        (17.93, "length", METRIC, "17.9 m", "18.0 m"),
        (0.123, "length", METRIC, "120 mm", "130 mm"),
        (0.625 * GPM, "flow", US, "0.6 gpm", "0.7 gpm"),
        (0.0989e-3, "flow", METRIC, "0.09 L/s", "0.1 L/s"),
        (57.4 * PSI, "pressure", US, "57 psi", "58 psi"),
        (3.97e5, "pressure", METRIC, "3.95 bar", "4 bar"),
        (146_300 * BTU_H, "power", US, "146000 Btu/h", "147000 Btu/h"),
    ],
)
def test_by_hand(si: float, kind: str, units: Units, down: str, up: str) -> None:
    def shown(value: float) -> str:
        return show_length(value, units) if kind == "length" else show_quantity(value, kind, units)

    assert shown(stepped_down(si, kind, units)) == down
    assert shown(stepped_up(si, kind, units)) == up


@given(st.floats(min_value=0.0, max_value=1e4), st.sampled_from((US, METRIC)))
def test_never_to_the_unsafe_side(si: float, units: Units) -> None:
    assert stepped_down(si, "length", units) <= si + 1e-6
    assert stepped_up(si, "length", units) >= si - 1e-6
