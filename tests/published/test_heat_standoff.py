"""Plastic beside and above hot things: the figures inspectors quote, and examples worked by hand from them."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.engine import Judged
from plancheck.limits import Limits
from plancheck.loader import built_in_rules
from tests.casework import judge, plan_of

IN = 0.0254
RULE = next(one for one in built_in_rules() if one.id == "heat_standoff").rule


@pytest.mark.parametrize(("id_", "inches"), [("beside", 6), ("above", 12)])
@pytest.mark.parametrize("family", ["irc", "ipc", "upc", None])
def test_six_beside_and_twelve_above(id_: str, inches: float, family: str | None) -> None:
    """6 in horizontally, 12 in vertically from recessed lights, gas vents, heating appliances and motors: the design
    guide of 2006 and the IAPMO IS 31 family as inspectors quote them (figures read, wording from memory). No code."""
    found = Limits(family, 2021).of(next(one for one in RULE.limits if one.id == id_))
    assert found.number == pytest.approx(inches * IN)
    assert found.practice
    assert found.source.read == "read"


def judged(heat: dict[str, Any], **changes: Any) -> Judged:
    """The answer on the one run of the test shed: 1/2 tube at 8 ft, from the zero point east."""
    case = {"base": "heat", "change": {"heat": {"it": heat}, **changes}}
    found = judge(plan_of(case), "heat_standoff")
    assert len(found) == 1
    return found[0]


# outside diameters: 1/2 tube 0.625 in (ASTM F876, read); from middle to middle in inches; surface to surface in inches
SURFACES = [("4 in", 8, 5.6875), ("6 in", 8, 4.6875), ("3 in", 5.8125, 4.0), ("8 in", 9.5, 5.1875)]


@pytest.mark.parametrize(("size", "middle", "surface"), SURFACES)
def test_surface_to_surface(size: str, middle: float, surface: float) -> None:
    """Half of both diameters goes off the distance of the middles."""
    found = judged({"is": "flue", "size": size, "path": [["10 ft", f"{middle} in", "6 ft"], "up 4 ft"]}).outcome
    assert found.kind == "broken"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(surface * IN, abs=1e-6)


@pytest.mark.parametrize(("up", "kind"), [("6 ft 10 in", "broken"), ("6 ft 9 in", "holds")])
def test_one_foot_over_a_level_vent(up: str, kind: str) -> None:
    """The tube is at 96 in. Vent at 82: 14 - 2.3125 = 11.69 in, too little; at 81: 12.69 in, enough."""
    found = judged({"is": "single-wall vent", "size": "4 in", "path": [["10 ft", "-2 ft", up], "north 4 ft"]}).outcome
    assert found.kind == kind


def test_a_slanting_distance() -> None:
    """A point 3 in aside and 4 in lower is 5 in away: less 1 in and 5/16 in of half diameters, 3-11/16 in above it."""
    found = judged({"is": "motor", "size": "2 in", "at": ["10 ft", "3 in", "7 ft 8 in"]}).outcome
    assert found.measured is not None
    assert found.measured.value == pytest.approx((5 - 1 - 0.3125) * IN, abs=1e-6)
    assert "above" in found.says


@pytest.mark.parametrize(("north", "kind"), [("8.4 in", "holds"), ("8 in", "broken")])
def test_a_listing_of_one_inch_to_wood_is_no_leave_for_plastic(north: str, kind: str) -> None:
    """Double-wall vents are listed for 1 in to combustibles (read); the 6 in for PEX are stricter and stay advice."""
    found = judged({"is": "double-wall vent", "size": "4 in", "path": [["10 ft", north, "6 ft"], "up 4 ft"]}).outcome
    assert found.kind == kind
    assert found.severity in (None, "advice")
