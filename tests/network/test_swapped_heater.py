"""A heater with its feed on its hot connection: named as such, and traced as if its two connections were swapped."""

from __future__ import annotations

import json
from typing import Any

import pytest

from plancheck.check import check_source
from plancheck.reading import read_bytes
from tests.casework import CASES, changed, load
from tests.network.nets import Net, net

PARTS = """
street: {is: source}
main: {is: valve, onto: street}
start: {is: tee, onto: main}
hv: {is: valve}
heater: {is: water heater, set: 120 degF}
row: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {valve: ball}, B: {valve: ball}}}
lav: {is: lavatory}
tub: {is: bathtub}
cold-tee: {is: tee}
"""
RUNS = """
a: start/branch > hv
b: hv > heater/{feed}
c: heater/{hot} > row
d: row/A > lav/hot
e: row/B > tub/hot
f: start/out > cold-tee
g: cold-tee/out > lav/cold
h: cold-tee/branch > tub/cold
"""


def piped(feed: str, hot: str, more: str = "") -> Net:
    return net(PARTS, RUNS.format(feed=feed, hot=hot) + more)


def test_a_swapped_heater_gives_what_a_right_one_gives_but_for_the_two_connections() -> None:
    right, wrong = piped("cold", "hot"), piped("hot", "cold")
    assert (right.graph.swapped, wrong.graph.swapped) == (frozenset(), {"heater"})
    assert wrong.traced.crossovers == ()
    assert wrong.services() == right.services()
    assert wrong.services()["c"] == "hot"
    assert dict(wrong.zones.dry) == dict(right.zones.dry)
    assert wrong.zones.unfed == ()
    assert wrong.zones.before["lav/hot"] == ("row/A", "hv", "main")
    assert {run: one.heated_by for run, one in wrong.traced.runs.items()} == {
        run: one.heated_by for run, one in right.traced.runs.items()
    }


@pytest.mark.parametrize("more", ["", "x: heater/cold > spare/in\n"])
def test_a_heater_without_its_feed_is_not_swapped_where_a_link_brings_cold(more: str) -> None:
    """The feed is missing, and a run leads cold into the hot row: that run joins hot and cold."""
    parts = PARTS + "cap: {is: tee}\nspare: {is: valve}\n"
    found = net(
        parts,
        "c: heater/hot > row\nd: row/A > lav/hot\nf: start/out > cap\nlink: cap/out > row/B\ng: cap/branch > lav/cold\n"
        + more,
    )
    assert found.graph.swapped == frozenset()
    assert found.traced.crossovers == ("link",)


def test_a_link_beside_a_right_feed_is_a_crossover() -> None:
    runs = RUNS.replace("f: start/out", "i: start/out > more\nf: more/out")
    found = net(
        PARTS.replace("A: {", "C: {}, A: {") + "more: {is: tee}\n",
        runs.format(feed="cold", hot="hot") + "link: more/branch > row/C\n",
    )
    assert found.graph.swapped == frozenset()
    assert len(found.traced.crossovers) == 1


def test_a_swapped_heater_beside_a_right_one() -> None:
    found = net(
        PARTS + "t1: {is: tee}\nt2: {is: tee}\nother: {is: water heater}\n",
        "a: start/branch > t1\nb: t1/out > heater/cold\nc: t1/branch > other/hot\nd: heater/hot > t2/in\n"
        "e: other/cold > t2/branch\nf: t2/out > row\ng: row/A > lav/hot\nh: start/out > lav/cold\n",
    )
    assert found.graph.swapped == {"other"}
    assert found.traced.crossovers == ()
    assert found.services()["e"] == found.services()["g"] == "hot"


def report(changes: dict[str, Any]) -> Any:
    plan = changed(load(CASES / "base" / "small.plan.yaml"), changes)
    return check_source(read_bytes(json.dumps(plan).encode(), "small.plan.yaml"), "2026-05-05")


def test_the_finding_says_swap_them_and_the_remark_how_the_rest_is_traced() -> None:
    runs = load(CASES / "base" / "small.plan.yaml")["runs"]
    swap = {"heater/hot": "heater/cold", "heater/cold": "heater/hot"}
    ends = {
        f"runs/{id_}/{end}": swap[run[end]]
        for id_, run in runs.items()
        for end in ("from", "to")
        if run.get(end) in swap
    }
    assert len(ends) == 2
    right, wrong = report({}), report(ends)
    said = [remark for remark in wrong.remarks if remark not in right.remarks]
    assert len(said) == 1
    assert said[0] == "The rest is traced as if the two connections of heater were swapped back."
    swapped = [one for one in wrong.findings if one.rule == "fixture_sides"]
    assert [one.path for one in swapped] == ["/parts/heater"]
    assert "is piped the wrong way round" in swapped[0].says
    assert "Swap the two at the heater" in swapped[0].mend
    assert not any("a run is missing" in one.says for one in wrong.not_shown)
    assert wrong.tally["branch_shutoff"] == right.tally["branch_shutoff"]
