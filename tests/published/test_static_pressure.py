"""Standing pressure: the limits against the codes, and heads of water against worked figures."""

from __future__ import annotations

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules
from plancheck.standing import Zone

RULE = next(one for one in built_in_rules() if one.id == "static_pressure").rule
PSI, FOOT = 6894.757293168, 0.3048


def in_force(id_: str, family: str | None, edition: int | None = None) -> InForce:
    limit: Limit = next(one for one in RULE.limits if one.id == id_)
    return Limits(family, edition).of(limit)


@pytest.mark.parametrize(
    ("family", "edition", "clause"),
    [("irc", 2015, "P2903.3.1"), ("irc", 2021, "P2903.3.2"), ("ipc", 2021, "604.8"), ("upc", 2021, "608.2")],
)
def test_eighty_psi(family: str, edition: int, clause: str) -> None:
    """IRC P2903.3.1 (P2903.3.2 from 2018), IPC 604.8, UPC 608.2: at most 80 psi in the building (read)."""
    found = in_force("highest", family, edition)
    assert found.number / PSI == pytest.approx(80)
    assert (found.source.clause, found.source.read, found.practice) == (clause, "read", False)


def test_forty_psi_is_advice_and_150_our_own_choice() -> None:
    """40 psi: older editions of the IRC (read), dropped since. 150 psi: the highest setting of a heater's relief valve."""
    assert in_force("lowest", "irc", 2021).number / PSI == pytest.approx(40)
    assert in_force("lowest", "irc", 2021).practice
    assert in_force("hazard", "upc").number / PSI == pytest.approx(150)


@pytest.mark.parametrize(("feet", "psi"), [(20, 8.66), (12, 5.2), (1, 0.433)])
def test_heads_of_water(feet: float, psi: float) -> None:
    """20 ft of water are 8.66 psi (worked example of a sizing guide, read), 0.433 psi a foot (code example, read)."""
    zone = Zone((), 60 * PSI, feet * FOOT, ("water", "static"))
    found = zone.at_height(0.0)
    assert found is not None
    assert found / PSI - 60 == pytest.approx(psi, abs=0.005)
    assert zone.at_height(None) == 60 * PSI
