"""The second outlet of a dual stop: a valve of its own for what hangs on it, however the plan draws that."""

from __future__ import annotations

import pytest

from tests.network.nets import house

SINK = """
sink: {is: kitchen sink, supply: {stop: dual}}
"""
FEEDS = "a: cold/B > sink/cold\nb: hot/A > sink/hot\n"
DISHWASHER = "dw: {is: dishwasher}\n"
WAYS = [
    (SINK + "dw: {is: dishwasher, onto: sink/hot}\n", FEEDS),
    (SINK + DISHWASHER, FEEDS + "c: sink/hot > dw\n"),
    (SINK + DISHWASHER, "c: sink/hot > dw\n" + FEEDS),
    (SINK + DISHWASHER, "c: dw/hot > sink/hot\n" + FEEDS),
    (SINK + DISHWASHER, "a: cold/B > sink/cold\nb: sink/hot > hot/A\nc: dw/hot > sink/hot\n"),
    (SINK + DISHWASHER, "a: cold/B > sink/cold\nc: sink/hot > dw\nb: sink/hot > hot/A\n"),
    (SINK + "dw: {is: dishwasher, onto: sink/hot}\n", "a: cold/B > sink/cold\nb: sink/hot > hot/A\n"),
]


@pytest.mark.parametrize(("parts", "lines"), WAYS)
def test_sink_and_dishwasher_each_shut_alone(parts: str, lines: str) -> None:
    zones = house(parts, lines).zones
    assert zones.before["sink/hot"] == ("sink/hot", "hot/A", "cold/A", "main")
    assert zones.before["dw/hot"] == ("dw/hot", "hot/A", "cold/A", "main")
    assert zones.dry["dw/hot"] == ("dw/hot",)
    assert zones.dry["sink/hot"] == ("sink/hot",)
    assert set(zones.dry["hot/A"]) == {"sink/hot", "dw/hot"}


@pytest.mark.parametrize(("parts", "lines"), WAYS)
def test_both_carry_hot_water(parts: str, lines: str) -> None:
    found = house(parts, lines)
    assert found.at("dw/hot:tap") == found.at("sink/hot:tap") == "hot"
    assert {found.services()[run] for run in found.services() if run in "bc"} == {"hot"}


def test_what_the_connector_carries_runs_away_from_the_sink() -> None:
    drawn = house(SINK + DISHWASHER, FEEDS + "c: sink/hot > dw\n").traced.runs["c"]
    turned = house(SINK + DISHWASHER, FEEDS + "c: dw/hot > sink/hot\n").traced.runs["c"]
    assert (drawn.circuit, drawn.reversed_) == ("hot/A", False)
    assert (turned.circuit, turned.reversed_) == ("hot/A", True)


def test_a_filter_on_the_second_outlet() -> None:
    parts = SINK + "filter: {is: filter}\nbar: {is: bar sink, hot: none}\n"
    zones = house(parts, FEEDS + "c: sink/cold > filter\nd: filter > bar/cold\n").zones
    assert zones.before["bar/cold"] == ("filter/in", "cold/B", "main")
    assert zones.before["sink/cold"] == ("sink/cold", "cold/B", "main")


def test_a_stop_of_its_own_behind_the_second_outlet() -> None:
    parts = SINK + "dw: {is: dishwasher, supply: {stop: angle}}\n"
    zones = house(parts, FEEDS + "c: sink/hot > dw\n").zones
    assert zones.before["dw/hot"] == ("dw/hot", "sink/hot:second", "hot/A", "cold/A", "main")


def test_a_toilet_made_up_onto_a_tee_feeds_its_own_dual_stop() -> None:
    parts = "t: {is: tee}\nwc: {is: toilet, onto: t/out, supply: {stop: dual}}\nbidet: {is: bidet, hot: none}\n"
    zones = house(parts, "a: cold/B > t\nb: wc > bidet/cold\n").zones
    assert zones.before["wc/cold"] == ("wc/cold", "cold/B", "main")
    assert zones.before["bidet/cold"] == ("bidet/cold", "cold/B", "main")


def test_a_run_with_the_name_of_the_part_is_no_feed() -> None:
    parts = "t: {is: tee}\nwc: {is: toilet, onto: t/out, supply: {stop: dual}}\nbidet: {is: bidet, hot: none}\n"
    zones = house(parts, "a: cold/B > t\nwc: wc > bidet/cold\n").zones
    assert zones.before["bidet/cold"] == ("bidet/cold", "cold/B", "main")


def test_a_removed_feed_feeds_nothing() -> None:
    parts = SINK + DISHWASHER
    zones = house(parts, "a: cold/B > sink/cold\nb: hot/A > sink/hot | work: removed\nc: hot/B > sink/hot\n").zones
    assert zones.before["sink/hot"] == ("sink/hot", "hot/B", "cold/A", "main")
