"""Metal at the heater: the figures of the code, the handbook and the makers, and examples from their sentences."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules
from tests.casework import judge, plan_of

IN = 0.0254
RULE = next(one for one in built_in_rules() if one.id == "heater_clearance").rule


def in_force(id_: str, family: str | None, edition: int | None = None) -> InForce:
    limit: Limit = next(one for one in RULE.limits if one.id == id_)
    return Limits(family, edition).of(limit)


# family, edition asked; inches; document, clause; read or from memory; gives advice at most
PRINTED = [
    ("upc", 2009, 18, "UPC", "604.11.2", "read", False),
    ("upc", 2012, 18, "UPC", "604.13", "from memory", False),
    ("upc", 2018, 18, "UPC", "604.13", "from memory", False),
    ("irc", 2021, 18, "PPFA", "water heaters", "read", True),
    ("ipc", 2021, 18, "PPFA", "water heaters", "read", True),
    (None, None, 18, "PPFA", "water heaters", "read", True),
]


@pytest.mark.parametrize(("family", "edition", "inches", "document", "clause", "read", "practice"), PRINTED)
def test_pex_at_a_water_heater(
    family: str | None, edition: int | None, inches: float, document: str, clause: str, read: str, practice: bool
) -> None:
    """UPC 2009 604.11.2 (read) and 604.13 of 2012 on (from memory): not within the first 18 in of piping. The IRC and
    the IPC have no such sentence; the PPFA handbook of 2006 and a maker's manual p. 20 (both read) say 18 in."""
    found = in_force("clearance", family, edition)
    assert found.number == pytest.approx(inches * IN)
    assert document in found.source.document
    assert clause in found.source.clause
    assert (found.source.read, found.practice) == (read, practice)


def test_other_plastics_are_habit_in_every_family() -> None:
    """The UPC's sentence names PEX, PEX-AL-PEX and PE-RT (from memory), no other plastic."""
    for family in ("irc", "ipc", "upc", None):
        assert in_force("other_plastic", family).practice


def hot_side(changes: dict[str, Any]) -> str:
    judged = judge(plan_of({"change": changes}), "heater_clearance")
    return next(one.outcome.kind for one in judged if one.subject.name.startswith("hot"))


@pytest.mark.parametrize(("inches", "kind"), [("24 in", "holds"), ("18 in", "holds"), ("12 in", "broken")])
def test_listed_connectors(inches: str, kind: str) -> None:
    """UPC 604.12 and 604.13 (read): copper or stainless connectors up to 24 in long satisfy it; the length counts."""
    assert hot_side({"runs/heater-hot/length": inches}) == kind


def test_length_of_pipe_not_the_straight_line() -> None:
    """18 in of piping (UPC 2009 604.11.2, read): 12 in up and 12 in over are 24 in of pipe and 17 in straight."""
    bent = {"from": "heater/hot", "to": "hot-start", "tube": "flex", "path": ["up 12 in", "east 12 in"]}
    assert hot_side({"runs/heater-hot": bent}) == "holds"
    there_and_back = {"from": "heater/hot", "to": "hot-start", "tube": "flex", "path": ["up 9 in", "down 8 in"]}
    assert hot_side({"runs/heater-hot": there_and_back}) == "broken"


def test_an_electric_heater_whose_maker_allows_it() -> None:
    """Design guide of 2006, ch. 9 p. 78 (read as quoted): PEX may join electric heaters where code or maker allows."""
    direct = {"runs/heater-hot": None, "parts/hot-start": None, "runs/hot-main/from": "heater/hot"}
    allowed = {"parts/heater/fuel": "electric", "parts/heater/maker_clearance": 0}
    assert hot_side({**direct, **allowed, "code/family": "irc"}) == "holds"
    assert hot_side({**direct, **allowed, "code/family": "upc"}) == "broken"
