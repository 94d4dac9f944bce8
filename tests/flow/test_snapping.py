"""A valve that snaps shut has one draw: what the page on flow shows is what the rule tells."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.flow.pages.safety import surge_table
from plancheck.reading import read_bytes
from plancheck.surge import stopped_at
from tests.casework import TODAY, judge, plan_of

GPM, PSI, FOOT = 6.30901964e-5, 6894.757293168, 0.3048
BORE_IN = 0.475  # SDR-9 tube of 1/2 in: 0.625 outside less twice 0.070, and half its tolerance
SIDES = ("washer/cold", "washer/hot", "dishwasher/hot", "ice/cold")


def hammer(change: dict[str, Any] | None = None) -> dict[str, Any]:
    none = {f"parts/{part}/arrestor": "none" for part in ("washer", "dishwasher", "ice")}
    return plan_of({"base": "hammer", "change": {**none, **(change or {})}})


@pytest.mark.parametrize("change", [{}, {"runs/washer-cold/length": None}, {"water/static": "75 psi"}])
def test_page_and_rule_give_one_figure(change: dict[str, Any]) -> None:
    plan = hammer(change)
    flow = facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY).flow
    shown = {str(row[0]): row[4] for row in surge_table(flow).rows}
    told = [one.outcome.measured for one in judge(plan, "hammer_arrestor") if one.outcome.kind == "broken"]
    assert set(shown) == set(SIDES)
    assert sorted(one.value for one in told if one is not None) == pytest.approx(sorted(shown.values()))


def test_the_draw_is_what_the_valve_takes_at_the_pressure_left() -> None:
    """The washer takes 6 gpm at 60 psi (AWWA M22, read), and so, behind what the pipe loses, 6 sqrt(p / 60)."""
    facts = facts_of(read_bytes(json.dumps(hammer()).encode(), "case.plan.yaml"), TODAY)
    found = stopped_at(facts, facts.plan.parts["washer"], "cold")
    assert found is not None
    assert found.solved
    solution = facts.flow.opened(("washer/cold",))
    left_psi = solution.heads[facts.flow.house.node("washer/cold")] * 0.4331 / FOOT
    assert found.flow_m3s / GPM == pytest.approx(6 * math.sqrt(left_psi / 60), rel=0.001)
    assert found.speed_m_s / FOOT == pytest.approx(0.4085 * found.flow_m3s / GPM / BORE_IN**2, rel=0.01)


def test_where_the_network_lacks_a_fact_the_usual_rate_is_taken_and_named() -> None:
    """A washer's 4 gpm (another state's code, read)."""
    plan = hammer({"runs/washer-cold/length": None})
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY)
    found = stopped_at(facts, facts.plan.parts["washer"], "cold")
    assert found is not None
    assert not found.solved
    assert found.flow_m3s / GPM == pytest.approx(4.0)
    assert surge_table(facts.flow).says == ("At the usual rate, what they draw here not being known: washer/cold.",)
