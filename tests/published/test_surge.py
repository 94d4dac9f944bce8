"""Pressure waves against print. `read`: the page or an excerpt was seen; `from memory`: it was not."""

from __future__ import annotations

import pytest

from plancheck.limits import Limit, Limits
from plancheck.loader import built_in_rules
from plancheck.measures import read_size
from plancheck.model import Tube
from plancheck.surge import (
    COPPER,
    PEX_WALL,
    longest_closing_s,
    modulus_of,
    rise_pa,
    wave_in,
    wave_speed_m_s,
)

RULE = next(one for one in built_in_rules() if one.id == "hammer_arrestor").rule
PSI, FOOT, INCH = 6894.757293168, 0.3048, 0.0254


def tube(material: str, size: str, type_: str | None = None) -> Tube:
    return Tube("t", material=material, type=type_, size=read_size(size))


@pytest.mark.parametrize(
    ("bore_mm", "wall_mm", "speed"), [(22.14, 1.63, 1319), (22.96, 1.22, 1273), (23.58, 0.91, 1217)]
)
def test_speeds_measured_in_copper(bore_mm: float, wall_mm: float, speed: float) -> None:
    """A laboratory's copper tubes, IWA journals (read): 1319, 1273, 1217 m/s with E = 124.1 GPa and K = 2.149 GPa."""
    found = wave_speed_m_s(bore_mm / 1000, wall_mm / 1000, COPPER.middle)
    assert found == pytest.approx(speed, rel=0.002)


# nominal, feet a second, psi for each ft/s: thin-wall formula at 0.8 GPa with least walls (computed apart)
@pytest.mark.parametrize(
    ("size", "speed", "psi"), [("3/8", 1252, 16.8), ("1/2", 1088, 14.6), ("3/4", 1081, 14.5), ("1", 1082, 14.6)]
)
def test_speeds_in_pex(size: str, speed: float, psi: float) -> None:
    found = wave_in(tube("PEX-B", size))
    assert found is not None
    assert found / FOOT == pytest.approx(speed, rel=0.003)
    assert rise_pa(found, FOOT) / PSI == pytest.approx(psi, abs=0.06)


def test_range_of_half_inch_pex() -> None:
    """0.6 to 1.0 GPa give 948 to 1208 ft/s and 12.8 to 16.3 psi for each ft/s (computed apart)."""
    for modulus, speed, psi in ((PEX_WALL.least, 948, 12.8), (PEX_WALL.most, 1208, 16.3)):
        found = wave_speed_m_s(0.485 * INCH, 0.070 * INCH, modulus)
        assert found / FOOT == pytest.approx(speed, rel=0.003)
        assert rise_pa(found, FOOT) / PSI == pytest.approx(psi, abs=0.06)


@pytest.mark.parametrize(("size", "speed", "psi"), [("1/2", 4338, 58.3), ("3/4", 4220, 56.7), ("1", 4132, 55.6)])
def test_speeds_in_copper_type_l(size: str, speed: float, psi: float) -> None:
    """Thin-wall formula on the dimensions of ASTM B88 (dimensions read; speeds computed apart)."""
    found = wave_in(tube("copper", size, "L"))
    assert found is not None
    assert found / FOOT == pytest.approx(speed, rel=0.003)
    assert rise_pa(found, FOOT) / PSI == pytest.approx(psi, abs=0.15)


@pytest.mark.parametrize(("feet_a_second", "psi"), [(4, 58), (8, 117), (10, 146), (12, 176)])
def test_surge_in_half_inch_pex(feet_a_second: float, psi: float) -> None:
    found = wave_in(tube("PEX-A", "1/2"))
    assert found is not None
    assert rise_pa(found, feet_a_second * FOOT) / PSI == pytest.approx(psi, abs=0.6)  # printed whole


def test_closing_time_of_the_arrestor_makers() -> None:
    """Arrestor makers' institute, WH-201, as a trade article quotes it (read): 80 ft of pipe, 40 ms, 4000 ft/s."""
    assert longest_closing_s(80 * FOOT, 4000 * FOOT) == pytest.approx(0.040)


def test_a_makers_formula() -> None:
    """A PEX maker's manual (read): a = 4660 / sqrt(1 + k (D/t) / E) ft/s with k = 300,000 psi; D/t 7 for 1/2 in PEX, 11
    for copper K. At 0.8 GPa (116,000 psi) and 124.1 GPa (18,000,000 psi) ours lies within 4 percent."""
    for ratio, modulus, psi in ((7, PEX_WALL.middle, 116000), (11, COPPER.middle, 18.0e6)):
        theirs = 4660 / (1 + 300000 * ratio / psi) ** 0.5
        assert wave_speed_m_s(ratio, 1.0, modulus) / FOOT == pytest.approx(theirs, rel=0.04)


def test_what_is_not_carried() -> None:
    assert wave_in(tube("PEX-AL-PEX", "1/2")) is None
    assert wave_in(tube("copper", "1/2")) is None  # its type is not said
    assert modulus_of("lead") is None


@pytest.mark.parametrize(("family", "clause"), [("irc", "P2903.5"), ("ipc", "604.9"), ("upc", "609.10")])
def test_who_asks_for_arrestors(family: str, clause: str) -> None:
    """IRC P2903.5, IPC 604.9, UPC 609.10 (609.11 in 2021): where quick-closing valves are used (read on a page)."""
    limit: Limit = next(one for one in RULE.limits if one.id == "arrestor")
    found = Limits(family, 2021).of(limit)
    assert clause in found.source.clause
    assert (found.source.read, found.practice) == ("read", False)


def test_how_near_and_how_large() -> None:
    """6 ft is common practice; size AA serves up to 4 fixture units (arrestor makers' sizing, from memory)."""
    reach, letter = (next(one for one in RULE.limits if one.id == id_).practice[0] for id_ in ("reach", "letter"))
    assert (reach.value, reach.source.read) == (pytest.approx(6 * FOOT), "common practice")
    assert (letter.value, letter.source.read) == (4, "from memory")
