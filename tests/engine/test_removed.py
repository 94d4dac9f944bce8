"""Any part of a sound plan may be removed work: every rule still answers, none fails."""

from __future__ import annotations

import json

import pytest

from plancheck.check import check_source
from plancheck.reading import read_bytes
from tests.casework import CASES, changed, load

SMALL = load(CASES / "base" / "small.plan.yaml")


@pytest.mark.parametrize("part", SMALL["parts"])
def test_a_removed_part_fails_no_rule(part: str) -> None:
    plan = changed(SMALL, {f"parts/{part}/work": "removed"})
    report = check_source(read_bytes(json.dumps(plan).encode(), "removed.plan.yaml"), "2026-05-05")
    assert report.crashed == ()
