"""Sizing by table beside the tables: supplies of fixtures, manifolds, rings. Numbers are typed in from what is named."""

from __future__ import annotations

from functools import cache

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules


@cache
def _limits(rule: str) -> dict[str, Limit]:
    found = next(one for one in built_in_rules() if one.id == rule).rule.limits
    return {limit.id: limit for limit in found}


def in_force(rule: str, limit: str, family: str | None, edition: int = 2021) -> InForce | None:
    return Limits(family, edition).maybe(_limits(rule)[limit])


def test_hot_lines_fed_from_two_sides_are_the_irc_s_matter_alone() -> None:
    """IRC P2903.8: cold manifolds may be gridded, hot ones have parallel lines (from memory). IPC 604.10 and UPC: none such."""
    found = in_force("ring_closed", "hot_ring", "irc")
    assert found is not None
    assert (found.source.document, found.source.clause, found.source.read) == ("IRC", "P2903.8", "from memory")
    for family in ("ipc", "upc", None):
        assert in_force("ring_closed", "hot_ring", family) is None


@pytest.mark.parametrize("family", ["irc", "ipc", "upc", None])
def test_ports_of_a_ring_are_practice(family: str | None) -> None:
    found = in_force("ring_closed", "least_ports", family)
    assert found is not None
    assert found.practice
    assert found.number == 3


FT, PSI, IN = 0.3048, 6894.757293168, 0.0254

SUPPLIES = [  # nominal inches: IPC Table 604.5 (a city's edition, read); UPC Table 610.3 (from memory)
    ("small", "ipc", 0.375, "Table 604.5", "read", False),
    ("usual", "ipc", 0.5, "Table 604.5", "read", False),
    ("flush_valve", "ipc", 1.0, "Table 604.5", "read", False),
    ("small", "upc", 0.5, "Table 610.3", "from memory", False),
    ("usual", "upc", 0.5, "Table 610.3", "from memory", False),
    ("flush_valve", "upc", 1.0, "Table 610.3", "from memory", False),
    ("bar_sink", "upc", 0.5, "Table 610.3", "from memory", False),
    # no table of its own: the IPC's as good practice
    ("small", "irc", 0.375, "Table 604.5", "read", True),
    ("usual", "irc", 0.5, "Table 604.5", "read", True),
    ("bar_sink", "ipc", 0.5, "Table 604.5", "read", True),
    ("usual", None, 0.5, "Table 604.5", "read", True),
]


@pytest.mark.parametrize(("id_", "family", "inches", "clause", "read", "practice"), SUPPLIES)
def test_supply_of_a_fixture(
    id_: str, family: str | None, inches: float, clause: str, read: str, practice: bool
) -> None:
    found = in_force("fixture_supply_size", id_, family)
    assert found is not None
    assert found.number == inches
    assert clause in found.source.clause
    assert (found.source.read, found.practice) == (read, practice)


@pytest.mark.parametrize(
    ("family", "psi", "clause", "read"), [("irc", 40, "P2903.8.2", "read"), ("ipc", 35, "note a", "from memory")]
)
def test_a_thinner_line_of_its_own(family: str, psi: float, clause: str, read: str) -> None:
    """60 ft and 40 psi: IRC P2903.8.2 (2012, quoted by a design guide, read); 60 ft and 35 psi: IPC note a (from memory)."""
    run = in_force("fixture_supply_size", "own_length", family)
    pressure = in_force("fixture_supply_size", "own_pressure", family)
    assert run is not None
    assert pressure is not None
    assert run.number == pytest.approx(60 * FT)
    assert pressure.number == pytest.approx(psi * PSI)
    for one in (run, pressure):
        assert clause in one.source.clause
        assert one.source.read == read


def test_how_much_thinner_it_may_be() -> None:
    """IRC: 3/8 in; IPC: one size under the table; the UPC has none such."""
    size, steps = (
        in_force("fixture_supply_size", "own_size", "irc"),
        in_force("fixture_supply_size", "own_steps", "ipc"),
    )
    assert size is not None
    assert steps is not None
    assert (size.number, steps.number) == (0.375, 1)
    for id_ in ("own_size", "own_steps", "own_length", "own_pressure"):
        assert in_force("fixture_supply_size", id_, "upc") is None


@pytest.mark.parametrize(("family", "practice"), [("ipc", False), ("irc", True), ("upc", True), (None, True)])
def test_reach_of_a_connector(family: str | None, practice: bool) -> None:
    """30 in from the end of the supply to the fixture: IPC 604.5 (a city's edition, read)."""
    found = in_force("fixture_supply_size", "reach", family)
    assert found is not None
    assert found.number == pytest.approx(30 * IN)
    assert found.practice == practice


@pytest.mark.parametrize(
    ("outside_mm", "wall_mm", "inches"),
    [(12, 1.1, 0.375), (16, 2.2, 0.5), (20, 2.8, 0.625), (25, 3.5, 0.75), (32, 4.4, 1.0)],
)
def test_metric_tube_counts_as_the_inch_size_it_reaches(outside_mm: float, wall_mm: float, inches: float) -> None:
    """Average bores of ASTM F876 SDR 9: 3/8 0.350, 1/2 0.475, 5/8 0.574, 3/4 0.671, 1 in 0.862 in; 5 percent under them."""
    from plancheck.ownlines import bore_counts_as

    bores = {0.375: 0.350, 0.5: 0.475, 0.625: 0.574, 0.75: 0.671, 1.0: 0.862, 1.25: 1.054}
    bore_in = (outside_mm - 2 * wall_mm) / 25.4
    assert max(size for size, bore in bores.items() if bore_in >= 0.95 * bore) == inches
    assert bore_counts_as(bore_in * IN) == inches


GPM, FPS = 6.30901964e-5, 0.3048
NOMINAL = {"1_2": 0.5, "3_4": 0.75, "1": 1.0, "1_1_4": 1.25, "1_1_2": 1.5}
MANIFOLDS = [  # gpm; IRC Table P2903.8.1 and IPC Table 604.10.1 at 8 ft/s (from memory)
    ("irc", "plastic", {"3_4": 17, "1": 29, "1_1_4": 46, "1_1_2": 66}, 12),
    ("irc", "metal", {"3_4": 11, "1": 20, "1_1_4": 31, "1_1_2": 44}, 8),
    ("ipc", "plastic", {"1_2": 5, "3_4": 11, "1": 20, "1_1_4": 31, "1_1_2": 44}, 8),
    ("ipc", "metal", {"1_2": 5, "3_4": 11, "1": 20, "1_1_4": 31, "1_1_2": 44}, 8),
]


@pytest.mark.parametrize(("family", "material", "rows", "fps"), MANIFOLDS)
def test_manifold_table_and_the_speed_it_is_made_with(
    family: str, material: str, rows: dict[str, int], fps: int
) -> None:
    """Each row is the nominal area at the table's own speed, to a whole gallon: gpm = 2.448 d2 v."""
    for name, gpm in rows.items():
        found = in_force("manifold_capacity", f"{material}_{name}", family)
        assert found is not None
        assert found.number / GPM == pytest.approx(gpm, rel=1e-9)
        assert (found.source.read, found.practice) == ("from memory", False)
        assert gpm == pytest.approx(2.448 * NOMINAL[name] ** 2 * fps, abs=0.6)
    speed = in_force("manifold_capacity", f"{material}_speed", family)
    assert speed is not None
    assert speed.number == pytest.approx(fps * FPS)
    assert speed.practice


def test_the_irc_s_table_begins_at_3_4_and_stands_in_for_the_upc() -> None:
    assert in_force("manifold_capacity", "plastic_1_2", "irc") is None
    for family in ("upc", None):
        found = in_force("manifold_capacity", "plastic_3_4", family)
        assert found is not None
        assert found.number / GPM == pytest.approx(17)
        assert found.practice
        assert in_force("manifold_capacity", "plastic_1_2", family) is None


def test_heater_on_the_end_is_the_irc_s_matter() -> None:
    """IRC P2903.8.2: a manifold a size larger than the heater feed on its end (from memory)."""
    found = in_force("manifold_capacity", "heater_end", "irc")
    assert found is not None
    assert (found.number, found.source.clause, found.source.read) == (1, "P2903.8.2", "from memory")
    assert in_force("manifold_capacity", "heater_end", "ipc") is None
    assert in_force("manifold_capacity", "heater_end", "upc") is None


@pytest.mark.parametrize(("size", "bore_in", "gpm"), [("3/4", 0.671, 13.2), ("1", 0.862, 21.8)])
def test_what_the_true_bore_of_plastic_tube_carries(size: str, bore_in: float, gpm: float) -> None:
    """Average bores of ASTM F876 SDR 9 at 12 ft/s: a fifth (3/4 in) and a quarter (1 in) under the table's row."""
    from plancheck.measures import read_size
    from plancheck.model import Tube
    from plancheck.tubedata import tube_bore_m

    bore_m = tube_bore_m(Tube("t", "PEX-B", size=read_size(size)))
    assert bore_m is not None
    assert bore_m / IN == pytest.approx(bore_in, abs=5e-4)
    assert 2.448 * (bore_m / IN) ** 2 * 12 == pytest.approx(gpm, abs=0.06)
