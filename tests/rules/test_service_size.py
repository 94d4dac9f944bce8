"""Words of the service's smallest size: they speak of the size in force."""

from __future__ import annotations

import json

import pytest

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.limits import Amended, Source
from plancheck.loader import built_in_rules
from plancheck.reading import read_bytes
from tests.casework import TODAY, plan_of

BY = Source("Fenmark County", "2024", "4.2", "amended")


@pytest.mark.parametrize(("value", "words"), [(1.0, "1 in"), (1.25, "1-1/4 in"), (0.9, "0.9 in")])
def test_an_amended_smallest_size_is_the_one_to_renew_it_in(value: float, words: str) -> None:
    plan = plan_of({"base": "plainflow"})
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "case.plan.yaml"), TODAY)
    rules = tuple(one for one in built_in_rules() if one.id == "service_size")
    amended = {"service_size": {"smallest": Amended(BY, "old mains", value)}}
    found = next(one.outcome for one in run_rules(rules, facts, amended) if one.subject.thing == "size of the service")
    assert found.kind == "broken"
    assert found.says == f"service is 3/4 in and feeds the whole house; at least {words}."
    assert found.mend == f"Renew it in {words} or larger."
    assert found.needed == f"at least nominal {words}"
