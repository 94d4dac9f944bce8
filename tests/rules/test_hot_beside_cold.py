"""Bare circulating hot beside cold is judged by the limits in force."""

from __future__ import annotations

import json

import pytest

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.limits import Amended, Source
from plancheck.loader import built_in_rules
from plancheck.reading import read_bytes
from tests.casework import CASES, TODAY, load, plan_of

BY = Source("Fenmark County", "2024", "4.2", "amended")
SIDE_BY_SIDE = CASES / "bundle_ties/loop_six_inches_off_for_ten_feet.yaml"  # 6 in apart over 10 ft


@pytest.mark.parametrize(
    ("limit", "m", "kind"),
    [("gap", 0.1524, "broken"), ("gap", 0.127, "holds"), ("long", 3.048, "broken"), ("long", 3.3528, "holds")],
)
def test_an_amended_distance_counts(limit: str, m: float, kind: str) -> None:
    plan = plan_of(load(SIDE_BY_SIDE))
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY)
    rules = tuple(one for one in built_in_rules() if one.id == "bundle_ties")
    amended = {"bundle_ties": {limit: Amended(BY, "as the county measures", m)}}
    assert [one.outcome.kind for one in run_rules(rules, facts, amended)] == [kind]
