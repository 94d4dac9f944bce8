"""Bends at and under the printed radii, judged on a whole plan. Numbers typed in from the source named beside them."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.outcomes import Outcome
from tests.casework import judge, plan_of

# nominal size, six and eight outside diameters in inches: ASTM F876 outside diameters (read), products as makers' tables
# print them (3-3/4, 5-1/4, 6-3/4 read; a plumbing textbook, read: 5, 7 and 9 in for 1/2, 3/4 and 1)
TABLE = [
    ("3/8", 3.0, 4.0),
    ("1/2", 3.75, 5.0),
    ("5/8", 4.5, 6.0),
    ("3/4", 5.25, 7.0),
    ("1", 6.75, 9.0),
    ("1-1/4", 8.25, 11.0),
    ("1-1/2", 9.75, 13.0),
    ("2", 12.75, 17.0),
]


def bend(
    material: str, size: str, said: dict[str, Any], path: tuple[str, ...] = ("east 12 ft", "north 12 ft")
) -> Outcome:
    change = {
        "tubes/tried": {"material": material, "size": size},
        "runs/bath-link/tube": "tried",
        "runs/bath-link/path": list(path),
        "runs/bath-link/bends": said,
    }
    judged = judge(plan_of({"change": change}), "bend_radius")
    return next(one.outcome for one in judged if one.subject.path == ("runs", "bath-link", "bends", 0))


@pytest.mark.parametrize(("size", "six", "eight"), TABLE)
def test_pex_a_at_six_diameters(size: str, six: float, eight: float) -> None:
    assert bend("PEX-A", size, {"radius": f"{six} in"}).kind == "holds"
    under = bend("PEX-A", size, {"radius": f"{six - 1 / 8} in"})
    assert (under.kind, under.severity) == ("broken", "correction")


@pytest.mark.parametrize("material", ["PEX-B", "PEX-C", "PEX"])
@pytest.mark.parametrize(("size", "six", "eight"), TABLE)
def test_stiffer_tube_at_eight(material: str, size: str, six: float, eight: float) -> None:
    """A maker's manual (read): six for PEX-a, eight for PEX-b and -c; under six is a correction for all."""
    assert bend(material, size, {"radius": f"{eight} in"}).kind == "holds"
    between = bend(material, size, {"radius": f"{eight - 1 / 8} in"})
    assert (between.kind, between.severity) == ("broken", "advice")
    assert bend(material, size, {"radius": f"{six - 1 / 8} in"}).severity == "correction"


@pytest.mark.parametrize(("size", "inches"), [("1/2", 11.25), ("3/4", 15.75)])
def test_against_the_coil(size: str, inches: float) -> None:
    """A maker's manual p. 39 (read): 11.25 in and 15.75 in."""
    assert bend("PEX-A", size, {"radius": f"{inches} in", "against": True}).kind == "holds"
    assert bend("PEX-A", size, {"radius": f"{inches - 1 / 8} in", "against": True}).kind == "broken"


@pytest.mark.parametrize(("size", "inches"), [("1/2", 1.5625), ("3/4", 2.1875), ("1", 2.8125)])
def test_formed_hot(size: str, inches: float) -> None:
    """2.5 outside diameters with hot air where the maker permits it (an inspectors' text, read)."""
    assert bend("PEX-A", size, {"radius": f"{inches} in", "hot": True}).kind == "on site"
    assert bend("PEX-A", size, {"radius": f"{inches - 1 / 8} in", "hot": True}).kind == "broken"
    assert bend("PEX-B", size, {"radius": f"{inches} in", "hot": True}).kind == "broken"


@pytest.mark.parametrize(("size", "radius", "inches"), [("1/2", 5, 6), ("3/8", 4, 6), ("3/4", 7, 10), ("1", 9, 10)])
def test_straight_before_an_expansion_fitting(size: str, radius: float, inches: float) -> None:
    """One maker's manual p. 54 (read): a bend that starts within 6 in (3/8, 1/2) or 10 in (3/4, 1) is supported."""

    def beside(straight: float, support: str) -> str:
        change = {
            "tubes/tried": {"material": "PEX-B", "size": size},
            "runs/bath-link/tube": "tried",
            "runs/bath-link/joint": {"from": "expansion ring", "to": "press"},
            "runs/bath-link/path": [f"east {radius + straight} in", "north 12 ft"],
            "runs/bath-link/bends": {"radius": f"{radius} in", "support": support},
        }
        judged = judge(plan_of({"change": change}), "bend_radius")
        return next(one.outcome.kind for one in judged if one.subject.path == ("runs", "bath-link", "bends", 0))

    assert beside(inches, "none") == "holds"
    assert beside(inches - 1 / 8, "none") == "broken"
    assert beside(inches - 1 / 8, "strap both sides") == "holds"


# turn in degrees as rise over run of the second leg, and the tangent of half of it, from a table of tangents
TURNS = [("north 10 ft", 1.0), ("east 10 ft and north 10 ft", 0.41421), ("west 10 ft and north 10 ft", 2.41421)]


@pytest.mark.parametrize(("second", "part"), TURNS)
def test_room_on_the_leg(second: str, part: float) -> None:
    """A bend of 10 in takes 10 in times the tangent of half the turn (elementary geometry); a sixteenth of grace."""
    for first, kind in ((10 * part, "holds"), (10 * part - 1 / 8, "broken")):
        assert bend("PEX-A", "1/2", {"radius": "10 in"}, (f"east {first:.4f} in", second)).kind == kind
