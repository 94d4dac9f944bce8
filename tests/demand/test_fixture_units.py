"""Fixture units of whole plans by hand: rows, groups of one room, upc's sink and hose, what is not shown."""

from __future__ import annotations

import pytest

from plancheck.demand.units import NoWeight, Units, weight_of
from plancheck.demand.weights import GROUPS, UPC_FIRST_HOSE_MORE, UPC_SHARE, WEIGHTS
from plancheck.kinds import KINDS
from tests.demand.houses import totals

BATH = """
wc: {is: toilet, place: bath}
lav: {is: lavatory, place: bath}
tub: {is: tub and shower, place: bath}
"""


def test_every_number_has_a_source() -> None:
    weights = [weight for table in WEIGHTS.values() for weight in table.values()]
    weights += [group.weight for groups in GROUPS.values() for group in groups]
    assert {weight.source.read for weight in weights} == {"read", "from memory", "common practice"}
    sourced = [weight.source for weight in weights if weight.source.read != "common practice"]
    assert all(source.document and source.clause for source in sourced)


@pytest.mark.parametrize(
    ("row", "family"),
    [("urinal", "irc"), ("urinal", "upc"), ("hose outlet", "ipc")],
)
def test_a_kind_without_a_row_says_so_and_weighs_nothing_at_all(row: str, family: str) -> None:
    found = weight_of(row, family)
    assert isinstance(found, NoWeight)
    assert row in found.why


def test_every_fixture_has_a_row_somewhere_or_is_known_to_have_none() -> None:
    rows = {row for table in WEIGHTS.values() for row in table}
    fixtures = {name for name, kind in KINDS.items() if kind.sort == "fixture"}
    assert fixtures - rows == {"urinal", "rest of house", "toilet"}


def test_upc_hot_or_cold_is_three_quarters_where_a_fixture_has_both() -> None:
    for row, weight in WEIGHTS["upc"].items():
        if weight.cold and weight.hot:
            assert weight.cold == weight.hot == UPC_SHARE * weight.total, row
        else:
            assert weight.cold + weight.hot == weight.total, row


def test_a_bathroom_counts_as_its_group_or_one_by_one_but_never_both() -> None:
    found = totals(BATH, "irc")
    assert found.grouped == Units("irc", 2.7, 1.5, 3.6)
    assert found.single == Units("irc", 3.7, 1.5, 4.3)
    assert found.missing == ()


@pytest.mark.parametrize(
    ("family", "more", "grouped", "single"),
    [
        ("irc", "lav2: {is: lavatory, place: bath}", 3.6 + 0.7, 4.3 + 0.7),
        ("irc", "wc2: {is: toilet, place: powder}\nlav2: {is: lavatory, place: powder}", 3.6 + 2.6, 4.3 + 2.9),
        ("ipc", "wc2: {is: toilet, place: powder}\nlav2: {is: lavatory, place: powder}", 3.6 + 2.9, 4.3 + 2.9),
        ("irc", "wc2: {is: toilet, place: powder}\nlav2: {is: lavatory, place: hall}", 3.6 + 2.9, 4.3 + 2.9),
        ("irc", "sink: {is: kitchen sink, place: k}\ndw: {is: dishwasher, place: k}", 3.6 + 2.5, 4.3 + 2.8),
        ("ipc", "sink: {is: kitchen sink, place: k}\ndw: {is: dishwasher, place: k}", 3.6 + 2.8, 4.3 + 2.8),
        ("irc", "w: {is: clothes washer, place: u}\nt: {is: laundry tray, place: u}", 3.6 + 2.5, 4.3 + 2.8),
        ("upc", "sink: {is: kitchen sink, place: k}\ndw: {is: dishwasher, place: k}", 7.5 + 1.5, 7.5 + 3.0),
        ("upc", "sink: {is: kitchen sink, place: k}\ndw: {is: dishwasher, place: u}", 7.5 + 3.0, 7.5 + 3.0),
        ("upc", "a: {is: hose outlet}\nb: {is: hose outlet}\nc: {is: hose outlet}", 7.5 + 4.5, 7.5 + 4.5),
        ("upc", "s: {is: shower, head: 2 gpm, spray: 1.8 gpm}", 7.5 + 4.0, 7.5 + 4.0),
        ("upc", "wc2: {is: toilet, flush: 3.5 gal}", 7.5 + 3.0, 7.5 + 3.0),
        ("irc", "lav2: {is: lavatory, hot: none}", 3.6 + 0.5, 4.3 + 0.5),
        ("upc", "lav2: {is: lavatory, hot: none}", 7.5 + 1.0, 7.5 + 1.0),
        ("upc", "x: {is: toilet, work: removed}", 7.5, 7.5),
    ],
)
def test_sums_of_a_bathroom_and_more(family: str, more: str, grouped: float, single: float) -> None:
    found = totals(BATH + more, family)
    assert found.grouped.total == pytest.approx(grouped)
    assert found.single.total == pytest.approx(single)


def test_a_flush_valve_bathroom_takes_its_own_group() -> None:
    found = totals(BATH.replace("is: toilet", "is: toilet, style: flush valve"), "ipc")
    assert found.grouped == Units("ipc", 6.0, 3.0, 8.0, True)
    assert found.single == Units("ipc", 7.5, 1.5, 8.1, True)


def test_first_hose_outlet_counts_more() -> None:
    assert totals("a: {is: hose outlet}", "upc").single.total == 1.0 + UPC_FIRST_HOSE_MORE == 2.5


@pytest.mark.parametrize(
    ("part", "what"),
    [
        ("u: {is: urinal}", "urinal"),
        ("u: {is: toilet, style: not known}", "how the toilet flushes"),
        ("u: {is: toilet, style: flush valve}", "flush valve toilet"),
        ("u: {is: toilet, flush: not known}", "unknown flush"),
        ("u: {is: rest of house}", "its fixtures or its draw"),
        ("u: {is: rest of house, draw: 6 gpm}", "fixture units of u"),
        ("u: {is: rest of house, fixtures: {toilet: not known}}", "its fixtures or its draw"),
        ("u: {is: rest of house, fixtures: {urinal: 1}}", "urinal"),
    ],
)
def test_what_cannot_be_counted_is_missing(part: str, what: str) -> None:
    found = totals(BATH + part, "upc")
    assert [what in gap.what for gap in found.missing] == [True]
    assert found.missing[0].path[:2] == ("parts", "u")
    assert found.single.total == 7.5


def test_the_rest_of_a_house_counts_by_its_fixtures() -> None:
    found = totals("rest: {is: rest of house, fixtures: {toilet: 2, lavatory: 2, shower: 1, hose outlet: 1}}", "irc")
    assert found.grouped.total == pytest.approx(3.6 + 2.6 + 2.5)
    assert found.single.total == pytest.approx(2 * 2.2 + 2 * 0.7 + 1.4 + 2.5)
    assert found.missing == ()
