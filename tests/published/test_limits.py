"""Limits in force against the printed tables they come from. Numbers are typed in from the source named beside them."""

from __future__ import annotations

import pytest

from plancheck.limits import InForce, Limit, Limits, NotShown
from plancheck.loader import built_in_rules

RULES = {rule.id: rule for rule in built_in_rules()}
IN, FT = 0.0254, 0.3048


def limit(rule: str, id_: str) -> Limit:
    return next(one for one in RULES[rule].rule.limits if one.id == id_)


def in_force(rule: str, id_: str, family: str | None, edition: int | None = None) -> InForce:
    return Limits(family, edition).of(limit(rule, id_))


# document, edition, clause; read or from memory; limit; family; edition asked; value in metres
SPACING = [
    ("IRC 2018 Table P2605.1, read", "pex_level", "irc", 2018, 32 * IN),
    ("IRC 2018 Table P2605.1, read", "pex_level_large", "irc", 2018, 4 * FT),
    ("IRC 2018 Table P2605.1, read", "pex_al_level", "irc", 2018, 32 * IN),
    ("IRC 2018 Table P2605.1, read", "pex_al_upright", "irc", 2018, 4 * FT),
    ("IRC 2018 Table P2605.1, read", "copper_level", "irc", 2018, 6 * FT),
    ("IRC 2018 Table P2605.1, read", "copper_level_middle", "irc", 2018, 10 * FT),
    ("IRC 2018 Table P2605.1, read", "cpvc_level", "irc", 2018, 3 * FT),
    ("IRC 2018 Table P2605.1, read", "cpvc_level_large", "irc", 2018, 4 * FT),
    ("IRC 2018 Table P2605.1, read", "upright", "irc", 2018, 10 * FT),
    ("IRC 2018 Table P2605.1 note b, from memory", "guide", "irc", 2018, 5 * FT),
    ("IPC 2015 Table 308.5, from memory", "pex_level", "ipc", 2018, 32 * IN),
    ("IPC 2015 Table 308.5, from memory", "pex_level_large", "ipc", 2018, 4 * FT),
    ("IPC before 2015, one PEX row, from memory", "pex_level_large", "ipc", 2012, 32 * IN),
    ("UPC 2018 Table 313.3, read", "pex_level", "upc", 2021, 32 * IN),
    ("UPC 2018 Table 313.3, read", "pex_level_large", "upc", 2021, 4 * FT),
    ("UPC 2018 Table 313.3, read", "pex_al_level", "upc", 2021, 98 * IN),
    ("UPC 2018 Table 313.3, read", "copper_level", "upc", 2021, 6 * FT),
    ("UPC 2018 Table 313.3, read", "copper_level_middle", "upc", 2021, 6 * FT),
    ("UPC 2018 Table 313.3, read", "copper_level_large", "upc", 2021, 10 * FT),
    ("UPC 2018 Table 313.3, read", "cpvc_level", "upc", 2021, 3 * FT),
]


@pytest.mark.parametrize(("source", "id_", "family", "edition", "value"), SPACING)
def test_support_spacing(source: str, id_: str, family: str, edition: int, value: float) -> None:
    found = in_force("support_spacing", id_, family, edition)
    assert found.number == pytest.approx(value, abs=1e-9)
    assert found.source.read in source
    assert found.source.document in source
    assert not found.practice


def test_copper_of_an_inch_and_a_half_differs_by_family() -> None:
    """IRC: 1-1/2 in copper 10 ft; UPC: 6 ft (both read). The difference is kept."""
    assert in_force("support_spacing", "copper_level_middle", "irc").number == pytest.approx(3.048)
    assert in_force("support_spacing", "copper_level_middle", "upc").number == pytest.approx(1.8288)


def test_family_limits_are_not_shown_without_a_code() -> None:
    with pytest.raises(NotShown) as caught:
        in_force("support_spacing", "pex_level", None)
    assert caught.value.path == ("code", "family")


def test_half_a_span_at_a_fitting() -> None:
    """A maker's design manual p. 72 (read): 16 in for a 32 in span."""
    half = in_force("support_spacing", "half_span", "irc")
    span = in_force("support_spacing", "pex_level", "irc")
    assert half.number * span.number == pytest.approx(16 * IN)
    assert half.practice


def test_heater_clearance_by_family() -> None:
    """UPC 2009 604.11.2 (read): 18 in of piping. IRC and IPC have no such number: a handbook of 2006 and makers, advice."""
    upc = in_force("heater_clearance", "clearance", "upc", 2021)
    assert (upc.number, upc.practice) == (pytest.approx(18 * IN), False)
    for family in ("irc", "ipc", None):
        other = in_force("heater_clearance", "clearance", family)
        assert (other.number, other.practice) == (pytest.approx(18 * IN), True)


def test_another_edition_has_a_caution() -> None:
    older = "The 2006 text of this number is not carried; that of 2009 is used: check your edition."
    assert in_force("heater_clearance", "clearance", "upc", 2006).caution == older
    assert "that of 2018 is used" in (in_force("support_spacing", "pex_level", "upc", 2021).caution or "")
    assert in_force("support_spacing", "pex_level", "upc", 2018).caution is None
    assert in_force("support_spacing", "pex_level_large", "ipc", 2012).caution is None


def test_heat_standoff() -> None:
    """6 in beside, 12 in above recessed lights and vents: inspectors' text (read), wording from memory; no code, advice."""
    assert in_force("heat_standoff", "beside", "upc").number == pytest.approx(6 * IN)
    assert in_force("heat_standoff", "above", "upc").number == pytest.approx(12 * IN)
    assert in_force("heat_standoff", "beside", "irc").practice


def test_bend_radius() -> None:
    """6 outside diameters for every PEX (makers' manuals, read), 8 for PEX-b and -c (a manual and a textbook, read)."""
    assert in_force("bend_radius", "floor", "irc").number == 6
    assert in_force("bend_radius", "stiff", "irc").number == 8
    assert in_force("bend_radius", "stiff", "irc").practice
    assert in_force("bend_radius", "against", "irc").number == 3


@pytest.mark.parametrize(("id_", "inches"), [("support_small", 6), ("support_large", 10)])
def test_bends_near_expansion_fittings(id_: str, inches: float) -> None:
    """One maker's manual p. 54 (read): 3/8 and 1/2 within 6 in, 3/4 and 1 within 10 in."""
    found = in_force("bend_radius", id_, "irc")
    assert found.number == pytest.approx(inches * IN)
    assert found.practice


# clauses: demand of shutoffs by family, read or from memory as noted in the reference
CLAUSES = [
    ("main", "irc", "P2903.9.1", "from memory"),
    ("main", "ipc", "606.1", "read"),
    ("main", "upc", "606.2", "read"),
    ("heater", "irc", "P2903.9.2", "read"),
    ("heater", "upc", "606.2", "read"),
    ("fixture", "irc", "P2903.9.3", "read"),
    ("fixture", "upc", "606.5", "from memory"),
    ("appliance", "ipc", "606.2", "read"),
]


@pytest.mark.parametrize(("id_", "family", "clause", "read"), CLAUSES)
def test_shutoff_clauses(id_: str, family: str, clause: str, read: str) -> None:
    source = in_force("branch_shutoff", id_, family).source
    assert clause in source.clause
    assert source.read == read


def test_the_ipc_asks_no_stop_of_plain_fixtures() -> None:
    assert in_force("branch_shutoff", "fixture", "ipc").practice


@pytest.mark.parametrize(("family", "clause"), [("ipc", "608.9"), ("irc", "P2901.2"), ("upc", "601.2")])
def test_purple_is_reclaimed_water(family: str, clause: str) -> None:
    assert clause in in_force("service_colour", "reclaimed", family).source.clause


def test_red_and_blue_are_habit_in_every_family() -> None:
    for family in ("irc", "ipc", "upc", None):
        assert in_force("service_colour", "habit", family).practice
