"""Fixture units to flow: each family by its own curve, and in its own way between rows."""

from __future__ import annotations

import pytest

from plancheck.demand.curve import BETWEEN, ROUND_UP, Flow, NoFlow, flow_of
from plancheck.demand.curvedata import HUNTER_TANK, ICC_TANK, ICC_VALVE, Rows
from plancheck.demand.units import Units
from tests.demand.houses import GPM


def flow(family: str, total: float, flush_valves: bool = False) -> Flow:
    found = flow_of(Units(family, 0.0, 0.0, total, flush_valves))
    assert isinstance(found, Flow)
    return found


@pytest.mark.parametrize("rows", [ICC_TANK, ICC_VALVE, HUNTER_TANK])
def test_rows_rise(rows: Rows) -> None:
    assert [row[0] for row in rows] == sorted({row[0] for row in rows})
    assert [row[1] for row in rows] == sorted({row[1] for row in rows})


@pytest.mark.parametrize(
    ("load", "gpm"), [(14, 17.0), (14.01, 17.5), (14.2, 17.5), (17.8, 18.8), (20.1, 21.5), (0.7, 3.0)]
)
@pytest.mark.parametrize("family", ["irc", "ipc"])
def test_icc_takes_the_next_row(family: str, load: float, gpm: float) -> None:
    found = flow(family, load)
    assert found.m3s == pytest.approx(gpm * GPM)
    assert (ROUND_UP in found.how) is (load != 14)


def test_upc_is_read_between_rows() -> None:
    found = flow("upc", 13)
    assert found.m3s == pytest.approx((9.2 + 10.4) / 2 * GPM)
    assert BETWEEN in found.how


def test_sums_of_tenths_stay_on_their_row() -> None:
    assert flow("irc", 0.1 + 0.2 + 0.7).how.endswith("the row of 1")
    assert flow("irc", 1.1 + 2.2 - 0.3).m3s == pytest.approx(6.5 * GPM)


def test_a_flush_valve_takes_the_other_column_and_upc_has_none() -> None:
    assert flow("ipc", 8, True).m3s == pytest.approx(22.2 * GPM)
    assert flow("ipc", 2, True).m3s == pytest.approx(15 * GPM)
    assert isinstance(flow_of(Units("upc", 0, 0, 8, True)), NoFlow)


def test_under_the_first_row_and_past_the_last() -> None:
    assert flow("upc", 0.75).m3s == pytest.approx(2 * GPM)
    assert flow("irc", 0).m3s == 0
    found = flow_of(Units("upc", 0, 0, 2000.5))
    assert isinstance(found, NoFlow)
    assert "2000" in found.why
    assert flow("upc", 2000).m3s == pytest.approx(320 * GPM)


def test_families_differ_at_the_low_end() -> None:
    """So that a mix-up would be seen: the same number of units is nearly twice the flow by the other family."""
    assert flow("irc", 10).m3s / flow("upc", 10).m3s == pytest.approx(14.6 / 8)
