"""Each seeded fault is caught, once, with its rule, path and severity, and nothing else is reported."""

from __future__ import annotations

from typing import Any

import pytest

from tests.casework import changed, load
from tests.seeded.seeding import (
    HERE,
    base_report,
    bases,
    checked,
    key,
    new_findings,
    newly_not_shown,
    row_files,
    rows,
    rules,
)

ROWS = rows()
_KEYS = {"id", "base", "change", "rule", "at", "severity", "words", "follows", "not_shown", "awaits"}
# rules that no single fault of a sound house makes speak first
_ONLY_BEHIND_OTHERS = {
    "ring_benefit": "a manifold that takes so much is too thin first",
    "shower_swing": "a listed valve at its own head holds what these houses ask of it; a head or a valve that does not is told first",
}


def _param(name: str, row: dict[str, Any]) -> Any:
    """A row as a case; one that awaits a mend must fail until it is mended, and say so."""
    marks = [pytest.mark.xfail(strict=True, reason=row["awaits"])] if "awaits" in row else []
    return pytest.param(row, id=f"{name}: {row['id']}", marks=marks)


@pytest.mark.parametrize("row", [_param(*one) for one in ROWS])
def test_the_fault_is_told_once(row: dict[str, Any]) -> None:
    assert set(row) <= _KEYS, set(row) - _KEYS
    report = checked(changed(bases()[row["base"]], row["change"]))
    told = new_findings(row, report)
    roots = [one for one in told if not one.under]
    assert [key(one) for one in roots] == [(row["rule"], row["at"], row["severity"])], [one.says for one in roots]
    assert all(one.under == roots[0].number for one in told if one.under)
    others = {one.rule for one in told} - {row["rule"]}
    assert others == set(row.get("follows", [])), "consequences of other rules, each named by the row"
    for word in row.get("words", []):
        assert word in f"{roots[0].says} {roots[0].mend}"
    assert report.crashed == ()
    assert newly_not_shown(row, report) == set(row.get("not_shown", []))


@pytest.mark.parametrize("name", sorted(bases()))
def test_the_houses_are_sound(name: str) -> None:
    """A house that the faults are put into gives no finding, but for what bases.yaml names as its own."""
    allowed = {tuple(one) for one in load(HERE / "bases.yaml")[name].get("told", [])}
    report = base_report(name)
    assert {(one.rule, one.path, one.severity) for one in report.findings} == allowed
    assert report.crashed == ()


def test_ids_are_told_apart_and_used() -> None:
    assert len(ROWS) == len({row["id"] for _, row in ROWS})
    assert {row["base"] for _, row in ROWS} == set(bases())
    assert all(load(file) for file in row_files())


def test_there_are_enough() -> None:
    assert len(ROWS) >= 150


def test_every_rule_is_put_to_the_test() -> None:
    """Each rule speaks first in some row, but for those with a reason, which follow in one."""
    first = {row["rule"] for _, row in ROWS}
    behind = {rule for _, row in ROWS for rule in row.get("follows", [])}
    ids = {one.id for one in rules()}
    assert ids - first == set(_ONLY_BEHIND_OTHERS)
    assert set(_ONLY_BEHIND_OTHERS) <= behind
