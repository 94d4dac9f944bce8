"""Ties of the shutoff rule: one cause, one finding; and a waiver of the advice on what stands behind waives nothing else."""

from __future__ import annotations

from plancheck.engine import Judged
from plancheck.model import Path
from tests.casework import CASES, judge, load, plan_of


def broken(case: str) -> dict[Path, Judged]:
    """The findings of a case by path, the general advice on what stands behind the first valve left out."""
    told = judge(plan_of(load(CASES / "branch_shutoff" / f"{case}.yaml")), "branch_shutoff")
    found = {one.outcome.at or one.subject.path: one for one in told if one.outcome.kind == "broken"}
    return {path: one for path, one in found.items() if path[-1] != "is"}


def test_the_second_of_two_looped_ports_follows_from_the_first() -> None:
    found = broken("looped_through_the_room")
    first = ("parts", "cold-ring", "ports", "A")
    assert found[first].outcome.cause is None
    assert found[("parts", "cold-ring", "ports", "B")].outcome.cause == first


def test_what_a_link_of_hot_and_cold_keeps_wet_follows_from_the_link() -> None:
    found = broken("hot_and_cold_joined")
    assert len(found) == 3
    assert {one.outcome.cause for one in found.values()} == {("runs", "link")}


def test_a_bare_port_follows_from_the_outlet_that_nothing_shuts() -> None:
    found = broken("bare_port_and_no_stop")
    assert found[("parts", "cold-ring", "ports", "B", "valve")].outcome.cause == ("parts", "wc")
    assert found[("parts", "wc")].outcome.cause is None


def test_a_bare_port_of_the_heater_follows_from_the_heater() -> None:
    found = broken("heater_port_without_valve")
    assert found[("parts", "cold-ring", "ports", "D", "valve")].outcome.cause == ("parts", "heater")


def test_a_hydrant_ahead_of_the_main_follows_from_the_main() -> None:
    found = broken("yard_hydrant_ahead_of_the_main")
    assert found[("parts", "hydrant")].outcome.cause == ("parts", "main-valve")


def test_the_advice_on_what_stands_behind_comes_once_and_has_a_path_of_its_own() -> None:
    told = judge(load(CASES / "base" / "shutoff_ring.plan.yaml"), "branch_shutoff")
    found = [one for one in told if one.outcome.kind == "broken"]
    assert [one.subject.path for one in found] == [("parts", "main-valve", "is")]
    listed = found[0].outcome.found
    assert listed.endswith("lav/cold, wc/cold, hose/cold")
