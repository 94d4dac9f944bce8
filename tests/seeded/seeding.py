"""Rows of seeded faults: a sound house, one fault put in, and the one finding it must give. Data in tests/seeded/."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from plancheck.check import check_source
from plancheck.loader import LoadedRule, built_in_rules
from plancheck.reading import read_bytes
from plancheck.report.data import Finding, PlanReport
from tests.casework import changed, load

HERE = Path(__file__).parent
SAMPLES = HERE.parents[1] / "sample_plans"
TODAY = "2026-06-05"


@cache
def rules() -> tuple[LoadedRule, ...]:
    """All built-in rules, loaded once."""
    return built_in_rules()


def row_files() -> list[Path]:
    """Every file of rows, by subject."""
    return sorted((HERE / "rows").glob("*.yaml"))


def rows() -> list[tuple[str, dict[str, Any]]]:
    """Every row with the subject of its file."""
    return [(file.stem, row) for file in row_files() for row in load(file)]


@cache
def bases() -> dict[str, dict[str, Any]]:
    """The sound houses by name, read once: the samples as they are, and what bases.yaml makes of them."""
    found: dict[str, dict[str, Any]] = {}
    for name, said in load(HERE / "bases.yaml").items():
        found[name] = changed(load(SAMPLES / f"{said['sample']}.plan.yaml"), said.get("change", {}))
    return found


def checked(plan: dict[str, Any]) -> PlanReport:
    """The whole check of a plan given as data."""
    raw = json.dumps(plan, ensure_ascii=False).encode("utf-8")
    return check_source(read_bytes(raw, "seeded.plan.yaml"), TODAY, rules())


@cache
def base_report(name: str) -> PlanReport:
    """What the whole check says of a sound house."""
    return checked(bases()[name])


def key(one: Finding) -> tuple[str, str, str]:
    """What makes a finding the same one in another report."""
    return one.rule, one.path, one.severity


def new_findings(row: dict[str, Any], report: PlanReport) -> list[Finding]:
    """The findings beyond those of the row's base."""
    known = {key(one) for one in base_report(row["base"]).findings}
    return [one for one in report.findings if key(one) not in known]


def newly_not_shown(row: dict[str, Any], report: PlanReport) -> set[str]:
    """Rule and path of what the edit hides that the base shows."""
    known = {f"{one.rule} {one.path}" for one in base_report(row["base"]).not_shown}
    return {f"{one.rule} {one.path}" for one in report.not_shown} - known
