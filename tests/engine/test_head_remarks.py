"""The remarks at the head of a report: what a finding tells already is not told again."""

from __future__ import annotations

import json
from typing import Any

from plancheck.check import check_source
from plancheck.loader import built_in_rules
from plancheck.reading import read_bytes
from tests.casework import CASES, changed, load

CROSSED = "link_between_the_rows.yaml"


def remarks(changes: dict[str, Any], without: str = "") -> list[str]:
    """The remarks of the small plan with changes that it has not without them."""
    rules = tuple(rule for rule in built_in_rules() if rule.id != without)
    base = load(CASES / "base" / "small.plan.yaml")
    plain, found = (
        check_source(read_bytes(json.dumps(plan).encode(), "small.plan.yaml"), "2026-05-05", rules).remarks
        for plan in (base, changed(base, changes))
    )
    return [remark for remark in found if remark not in plain]


def swapped() -> dict[str, Any]:
    """The changes by which the heater has its feed on its hot connection."""
    other = {"heater/hot": "heater/cold", "heater/cold": "heater/hot"}
    runs = load(CASES / "base" / "small.plan.yaml")["runs"]
    found = ((f"runs/{id_}/{end}", run.get(end)) for id_, run in runs.items() for end in ("from", "to"))
    return {path: other[end] for path, end in found if end in other}


def test_a_swapped_heater_is_told_by_its_finding_or_by_the_remark() -> None:
    how = "The rest is traced as if the two connections of heater were swapped back."
    assert remarks(swapped()) == [how]
    (full,) = remarks(swapped(), without="fixture_sides")
    assert full.endswith(how)
    assert "Swap them: feed on heater/cold" in full


def test_an_old_swapped_heater_has_no_finding_so_that_the_remark_tells_all() -> None:
    runs = load(CASES / "base" / "small.plan.yaml")["runs"]
    at = [id_ for id_, run in runs.items() if any(str(run.get(end, "")).startswith("heater/") for end in ("from", "to"))]
    old = {f"runs/{id_}/work": "existing" for id_ in at}
    (full,) = remarks({**swapped(), **old, "parts/heater/work": "existing"})
    assert full.startswith("heater: its two connections look swapped")


def test_a_crossover_is_told_by_its_finding_or_by_the_remark() -> None:
    case = load(CASES / "hot_cold_crossover" / CROSSED)
    how = "The rest is traced without link; what it keeps wet until then is told at the ports."
    assert remarks(case["change"]) == [how]
    (full,) = remarks(case["change"], without="hot_cold_crossover")
    assert full == f"link joins hot and cold where nothing should: take it out. {how}"
