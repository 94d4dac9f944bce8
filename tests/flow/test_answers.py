"""Answers of `flow` against what one can reckon by hand."""

from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.flow.capacity import cases
from plancheck.flow.compensated import MOST_ROUNDS, compensated, compensates
from plancheck.flow.flow import Flow
from plancheck.flow.pages.loops import loops_table
from plancheck.flow.pages.safety import expansion_table
from plancheck.flow.pages.table import Gaps
from plancheck.flow.shower import showers, swing, trimmed
from plancheck.flow.variants import END, LARGER, MIDDLE, RING, as_built, compared
from plancheck.reading import read_bytes, read_plan
from tests.casework import CASES, changed, plan_of

SAMPLES = Path(__file__).parents[2] / "sample_plans"
PSI = 6894.757293168


@lru_cache
def boathouse() -> Flow:
    return facts_of(read_plan(str(SAMPLES / "boathouse.plan.yaml")), "2026-05-20").flow


def read_case(name: str) -> dict[str, Any]:
    """The plan of a case file."""
    return plan_of(yaml.safe_load((CASES / name).read_text(encoding="utf-8")))


def facts_on(plan: dict[str, Any]) -> Facts:
    """The facts of a plan given as data."""
    return facts_of(read_bytes(yaml.safe_dump(plan, sort_keys=False).encode(), "case"), "2026-05-05")


def case(name: str) -> Facts:
    """The facts of a case file."""
    return facts_on(read_case(name))


def test_a_valve_that_compensates_brings_the_temperature_back() -> None:
    flow = boathouse()
    for fixture in showers(flow):
        kind = compensates(flow, fixture)
        assert kind == "pressure balanced"
        before, _, _ = trimmed(flow, fixture)
        assert before is not None
        for side in ("g-wc/cold", "washer/hot", "trough/hot"):
            bare = swing(flow, fixture, side, before).after
            held = compensated(flow, fixture, side, before, kind)
            assert held.rounds <= MOST_ROUNDS
            assert held.mixed is not None
            assert bare is not None
            assert abs(held.mixed.celsius - before.celsius) <= 0.02
            assert abs(bare.celsius - before.celsius) >= abs(held.mixed.celsius - before.celsius) - 1e-6
            assert held.mixed.flow_m3s < before.flow_m3s  # it holds the temperature, not the flow


def test_the_same_loss_on_both_sides_moves_flow_and_not_temperature() -> None:
    """Hot and cold that lose alike: the mix stays (energy balance; the common loss is in the service)."""
    flow = boathouse()
    fixture = showers(flow)[0]
    before, _, _ = trimmed(flow, fixture)
    assert before is not None
    found = swing(flow, fixture, "garden-hose/cold", before)
    assert found.after is not None
    assert abs(found.change_c) < 0.1
    assert found.after.flow_m3s < 0.99 * before.flow_m3s


def test_variants_keep_the_ports_and_their_order() -> None:
    flow = boathouse()
    part = flow.facts.plan.parts["cold-ring"]
    peak = flow.network_peak(flow.facts.loads)
    variants = {one.shape: one for one in compared(flow, part, dict(peak.draws))}
    assert as_built(part.own) == RING  # type: ignore[arg-type]
    assert list(variants) == [f"{RING} (as planned)", END, MIDDLE, LARGER]
    ring, end, middle, larger = variants.values()
    assert list(ring.ports) == list(end.ports) == list(middle.ports) == list(larger.ports)
    assert ring.spread_pa < middle.spread_pa < end.spread_pa  # 0.3, 0.4 and 1.9 psi
    assert larger.lost_pa < ring.lost_pa < end.lost_pa
    assert min(ring.ports.values()) > min(end.ports.values())


def test_a_loop_s_speed_by_hand() -> None:
    """2.20 gpm in 3/4 in PEX, bore 0.671 in: 0.4085 x 2.20 / 0.671^2 = 2.00 ft/s."""
    facts = case("circulation_loop/at_2_20_gpm_holds.yaml")
    table = loops_table(facts.flow, Gaps())
    speeds = [row[1] for row in table.rows if isinstance(row[1], float)]
    assert speeds
    assert max(speeds) / 0.3048 == pytest.approx(0.4085 * 2.20 / 0.671**2, rel=2e-3)
    for row in table.rows:
        enters, leaves = row[3], row[4]
        if isinstance(enters, float) and isinstance(leaves, float):
            assert leaves < enters


@pytest.mark.parametrize("degf", [70, 90, 104, 105])
def test_a_mix_is_never_warmer_than_the_water_of_the_heater(degf: int) -> None:
    facts = facts_on(changed(read_case("shower_swing/heater_at_100.yaml"), {"parts/heater/set": f"{degf} degF"}))
    fixture = facts.flow.house.fixtures["shower"]
    before, missing, why = trimmed(facts.flow, fixture)
    assert before is not None, (missing, why)
    assert before.celsius == pytest.approx((degf - 32) / 1.8, abs=0.06)
    assert cases(facts.flow, fixture, 1e-4) == [{fixture.sides["hot"]: 1e-4}]
    for side in ("wc/cold", "washer/hot"):
        if side in facts.flow.edges:
            after = swing(facts.flow, fixture, side, before).after
            assert after is not None
            assert after.celsius <= before.celsius + 0.06


def test_hot_water_no_warmer_than_the_cold_is_said() -> None:
    colder = {"parts/heater/set": "41 degF", "water/coldest": "45 degF"}
    facts = facts_on(changed(read_case("shower_swing/heater_at_100.yaml"), colder))
    before, missing, why = trimmed(facts.flow, facts.flow.house.fixtures["shower"])
    assert (before, missing) == (None, None)
    assert why == "its hot water is no warmer than its cold"


@pytest.mark.parametrize(("kind", "words"), [("well", "open to the tank of the well"), ("main", "open to the street")])
def test_a_well_has_no_street_to_press_back_to(kind: str, words: str) -> None:
    plan = changed(read_case("shower_swing/heater_at_100.yaml"), {"parts/street": {"is": "source", "kind": kind}})
    (row,) = expansion_table(facts_on(plan).flow, Gaps()).rows
    assert row[1] == words
