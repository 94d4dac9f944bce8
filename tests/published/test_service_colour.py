"""What the colour rule rests on, against the pages it was taken from; texts and clauses are typed in here."""

from __future__ import annotations

import pytest

from plancheck.limits import InForce, Limits
from plancheck.loader import built_in_rules
from tests.casework import judge, plan_of

RULE = next(rule for rule in built_in_rules() if rule.id == "service_colour")


def in_force(id_: str, family: str | None, edition: int | None = None) -> InForce:
    return Limits(family, edition).of(next(one for one in RULE.rule.limits if one.id == id_))


def broken(**changes: object) -> dict[str, str | None]:
    """Path -> severity of what is broken when bath-lav-c is run in tube with the keys given."""
    tube = {"tubes/odd": {"material": "PEX-A", "size": "1/2", **changes}, "runs/bath-lav-c/tube": "odd"}
    found = judge(plan_of({"change": tube}), "service_colour")
    return {str(one.subject.path[1]): one.outcome.severity for one in found if one.outcome.kind == "broken"}


# IPC 608.8 to 2015, 608.9 from 2018; IRC P2901.2; UPC 601.2 and 601.3 (read): where potable and nonpotable water are in
# one building each is identified by colour and words; purple is reclaimed water
CLAUSES = [("ipc", "608.9"), ("ipc", "608.8"), ("irc", "P2901.2"), ("upc", "601.2"), ("upc", "601.3")]


@pytest.mark.parametrize(("family", "clause"), CLAUSES)
def test_identification_is_asked_where_both_waters_are_in_one_building(family: str, clause: str) -> None:
    for id_ in ("reclaimed", "apart"):
        found = in_force(id_, family)
        assert clause in found.source.clause
        assert not found.practice
    assert clause.rstrip(".0123456789") in (RULE.words.ask)


def test_marks_of_the_ipc_and_the_upc() -> None:
    """IPC: contents and an arrow every 25 ft and at each wall, floor and roof (read); UPC: every 20 ft (from memory)."""
    ipc, upc = in_force("apart", "ipc"), in_force("apart", "upc")
    assert "25 ft" in str(ipc.value)
    assert ipc.source.read == "read"
    assert "20 ft" in str(upc.value)
    assert upc.source.read == "from memory"


def test_no_code_asks_for_red_or_blue() -> None:
    """Retailers' and trade pages (read): red hot, blue cold, white or natural either; no code requirement."""
    for family in ("irc", "ipc", "upc", None):
        found = in_force("habit", family)
        assert found.practice
        assert found.value == "red hot, blue cold, white either"
    assert "no code asks for red or blue" in RULE.words.ask.lower()


def test_potable_tube_by_family() -> None:
    """IPC 605.3 asks NSF/ANSI 61 (read); IRC P2906 and UPC 604.1 ask listed potable pipe (from memory)."""
    assert ("605.3" in in_force("potable", "ipc").source.clause, in_force("potable", "ipc").source.read) == (
        True,
        "read",
    )
    assert in_force("potable", "irc").source.clause == "P2906"
    assert in_force("potable", "upc").source.clause == "604.1"
    assert in_force("potable", "upc").source.read == "from memory"


# print marks and what they mean: NSF/ANSI 14 and 61 (a page with prints, read; rfh from memory)
@pytest.mark.parametrize("mark", ["NSF-pw", "NSF 61", "NSF/ANSI 61", "NSF/ANSI/CAN 61"])
def test_potable_marks(mark: str) -> None:
    assert broken(colour="orange", print=["ASTM F876", mark]) == {}


@pytest.mark.parametrize("mark", ["NSF-rfh", "DIN 4726", "oxygen barrier EVOH"])
def test_heating_marks(mark: str) -> None:
    """A retailer's page (read): barrier tube meets DIN 4726 and usually lacks the potable mark."""
    assert broken(colour="blue", print=["ASTM F876", mark]) == {"bath-lav-c": "correction"}
    assert broken(colour="blue", print=["ASTM F876", mark, "NSF-pw"]) == {}


# a retailer's and a trade page (read): what is pulled in which colour; severity on cold drinking water
COLOURS = [
    ("blue", None),
    ("white", None),
    ("natural", None),
    ("red", "advice"),
    ("purple", "hazard"),
]


@pytest.mark.parametrize(("colour", "severity"), COLOURS)
def test_colours_on_cold_water(colour: str, severity: str | None) -> None:
    assert broken(colour=colour) == ({} if severity is None else {"bath-lav-c": severity})


def test_orange_is_mostly_heating_tube() -> None:
    """The same pages (read): often orange, check the print, not the colour."""
    assert broken(colour="orange", print=["ASTM F876"]) == {"bath-lav-c": "correction"}
    assert broken(colour="orange") == {}


@pytest.mark.parametrize(("wall", "colour"), [("K", "green"), ("L", "blue"), ("M", "red")])
def test_print_colours_of_copper_tell_its_wall(wall: str, colour: str) -> None:
    """ASTM B88 prints K in green, L in blue, M in red (a trade page, read): hot or cold is not meant."""
    assert broken(material="copper", type=wall, colour=colour) == {}
