"""CSV: the same as the JSON report, and nothing a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from plancheck.report.table import COLUMNS
from tests.report.making import MISTAKES, ROOT, SMALL, report, rules

NESTED = ("measured", "limit")


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text), strict=True))


def test_a_row_a_finding_with_all_that_json_has(tmp_path: Path) -> None:
    plans = [MISTAKES, str(ROOT / "sample_plans" / "apprentice.plan.yaml")]
    found = rows(report(tmp_path, "csv", *plans)[1])
    told = json.loads(report(tmp_path, "json", *plans)[1])["plans"]
    wanted = [(plan["file"], one) for plan in told for one in plan["findings"]]
    assert len(found) == len(wanted) > 20
    for row, (file, one) in zip(found, wanted, strict=True):
        assert (row["plan"], row["state"]) == (file, "told")
        for key, value in one.items():
            if key not in NESTED:
                assert row[key] == ("" if value is None else str(value)), key
        for key in NESTED:
            for name, value in (one[key] or {}).items():
                assert row[f"{key}_{name}"] == str(value)


def test_the_readme_documents_the_columns() -> None:
    text = " ".join((ROOT / "README.md").read_text("utf-8").split())
    assert [name for name in COLUMNS if f"`{name}`" not in text] == []


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20"])
def test_no_text_begins_a_formula(tmp_path: Path, start: str) -> None:
    evil = f"{start}cmd|' /C calc'!A0,\"x\"\ny"
    _, text = report(tmp_path, "csv", str(SMALL), *rules(tmp_path, f"broken({evil!r}, 'advice', mend={evil!r})"))
    [row] = rows(text)
    for key in ("says", "mend"):
        assert row[key].startswith("'")
        assert row[key].endswith("""'!A0,"x" y""")


def test_a_negative_number_stays_a_number(tmp_path: Path) -> None:
    from plancheck.report.table import _safe

    assert _safe(-3.5) == -3.5
    assert _safe("-3.5") == "'-3.5"


def test_waived_findings_are_there_with_who_and_why(tmp_path: Path) -> None:
    waiver = "{rule: own_rule, at: /parts/lav, because: =agreed, by: a crew, until: 2027-01-01}"
    plan = tmp_path / "den.plan.yaml"
    plan.write_text(f"{SMALL.read_text('utf-8')}\nwaivers: [{waiver}]\n", encoding="utf-8")
    [row] = rows(report(tmp_path, "csv", str(plan), *rules(tmp_path, 'broken("x", "correction")'))[1])
    assert (row["state"], row["waived_because"], row["waived_by"]) == ("waived", "'=agreed", "a crew")
