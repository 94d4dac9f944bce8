"""Rosters, marks files, unreadable plans, resubmission, reproducible results, and that no name leaks."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from plancheck.cli import run as command
from plancheck.errors import Unreadable
from plancheck.gradecalls import Call, run_grade
from plancheck.grading.machine import gradebook, result_json
from tests.casework import changed
from tests.grading.making import SMALL, aspect, by_name, rubric, run, small

SCHEME = rubric({"sides": {"weight": 40, "rules": ["fixture_sides"]}, "bends": {"weight": 40, "rules": ["bend_radius"], "each": 5}, "tidy": {"weight": 20, "judge": "the bench"}})  # fmt: skip
NAMES = ("Quillon Abernethy", "Wrenfield Marsh", "quillon-final-v3")


def named() -> dict[str, Any]:
    """The small plan with names of people wherever a plan can hold one."""
    return changed(SMALL, {
        "job/title": f"Exercise of {NAMES[0]}",
        "job/by": NAMES[0],
        "permit": {"number": f"P {NAMES[0]}"},
        "tests": {"t": {"covers": ["cold", "hot"], "medium": "water", "start": "80 psi", "end": "80 psi", "held": "20 min",
                        "date": "2026-05-01", "by": NAMES[1]}},
        "claims": {"gauged": {"says": "rings gauged", "covers": ["cold", "hot"], "count": 3, "by": NAMES[1], "date": "2026-05-01",
                              "photo": f"{NAMES[2]}.jpg"}},
    })  # fmt: skip


def test_no_name_and_no_file_name_reaches_any_result(tmp_path: Path) -> None:
    pages = tmp_path / "pages"
    result = run(tmp_path, SCHEME, {NAMES[2]: named(), "B": SMALL}, pages=str(pages))
    shown = [result_json(result.klass.rubric, result.made, result.class_, result.picture)]
    shown += [gradebook(result.klass.rubric, result.class_)]
    texts = shown + [file.read_text(encoding="utf-8") for file in pages.rglob("*.*")]
    names = [name for name in NAMES[:2] for text in texts if name in text]
    assert not names
    assert len(texts) == 6  # JSON, gradebook twice, the class, two candidates


def test_without_a_roster_candidates_are_called_by_their_hash(tmp_path: Path) -> None:
    (tmp_path / "a.rubric.yaml").write_text(json.dumps(SCHEME), encoding="utf-8")
    (tmp_path / f"{NAMES[2]}.plan.json").write_text(json.dumps(named()), encoding="utf-8")
    pages = tmp_path / "pages"
    found = run_grade(Call(str(tmp_path / "a.rubric.yaml"), (str(tmp_path),), today="2026-05-05", pages=str(pages)))
    (one,) = found.class_
    assert one.candidate == f"plan-{one.sha256[:8]}"
    assert not any(name in file.read_text(encoding="utf-8") for file in pages.rglob("*.*") for name in NAMES)
    assert not any(name in str(file) for file in pages.rglob("*") for name in NAMES)


def test_a_plan_that_cannot_be_read_has_its_row_and_stops_nobody(tmp_path: Path) -> None:
    scheme = {**SCHEME, "unreadable": 12.5}
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": "parts: [", "C": '{"plancheck": 1, "parts": {}}', "D": "\x00\xff"}))
    assert [found[name].total for name in ("B", "C", "D")] == [12.5, 12.5, 12.5]
    assert all(found[name].unread for name in ("B", "C", "D"))
    assert found["A"].total == 80


def test_the_same_input_gives_the_same_bytes_and_a_changed_rubric_another_hash(tmp_path: Path) -> None:
    plans = {"A": SMALL, "B": small(defaults__runs__blue__bends__radius="2 in")}
    texts = []
    for scheme in (SCHEME, SCHEME, {**SCHEME, "title": "Other"}):
        result = run(tmp_path, scheme, plans)
        texts.append(result_json(result.klass.rubric, result.made, result.class_, result.picture))
    assert texts[0] == texts[1]
    first, other = (json.loads(text)["made"] for text in texts[1:])
    assert first["rubric_sha256"] != other["rubric_sha256"]
    assert first["rules_sha256"] == other["rules_sha256"]


def test_judged_and_overridden_marks_come_from_the_marks_file_alone(tmp_path: Path) -> None:
    marks = tmp_path / "class.marks.yaml"
    marks.write_text(
        "plancheck: 1\ncandidates:\n  A:\n    judge: {all/tidy: {level: 3, by: tutor 1}}\n"
        "    overrides: {all/sides: {mark: 10, because: the bench showed otherwise, by: tutor 1, second: tutor 2}}\n",
        encoding="utf-8",
    )
    before = (tmp_path / "pile").exists()
    found = by_name(run(tmp_path, SCHEME, {"A": SMALL}, marks=str(marks)))["A"]
    assert not before
    assert found.total == 10 + 40 + 20
    sides = aspect(found, "sides")
    assert (sides.state, sides.because, sides.second) == ("overridden", "the bench showed otherwise", "tutor 2")
    assert "by rule it was 40.00" in sides.says


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ("{overrides: {all/sides: {mark: 10, because: x, by: one, second: One}}}", "one person"),
        ("{overrides: {all/sides: {mark: 41, because: x, by: one, second: two}}}", "more than its 40"),
        ("{overrides: {all/side: {mark: 1, because: x, by: one, second: two}}}", "no aspect 'all/side'"),
        ("{overrides: {all/sides: {mark: 10, because: x, by: one}}}", "second"),
        ("{judge: {all/sides: {level: 2, by: one}}}", "not judged by a person"),
        ("{judge: {all/tidy: {level: 4, by: one}}}", "level"),
    ],
)
def test_wrong_entries_of_the_marks_file_are_told_with_their_place(tmp_path: Path, entry: str, says: str) -> None:
    marks = tmp_path / "class.marks.yaml"
    marks.write_text(f"plancheck: 1\ncandidates:\n  A: {entry}\n", encoding="utf-8")
    with pytest.raises(Unreadable) as wrong:
        run(tmp_path, SCHEME, {"A": SMALL}, marks=str(marks))
    assert any(says in f"{one.says} {one.mend}" and one.line == 3 for one in wrong.value.problems)


def test_a_candidate_nobody_handed_in_is_told(tmp_path: Path) -> None:
    marks = tmp_path / "class.marks.yaml"
    marks.write_text("plancheck: 1\ncandidates:\n  Z: {judge: {all/tidy: {level: 2, by: one}}}\n", encoding="utf-8")
    with pytest.raises(Unreadable, match="no candidate 'Z'"):
        run(tmp_path, SCHEME, {"A": SMALL}, marks=str(marks))


def test_a_resubmission_tells_what_was_mended_and_what_is_new(tmp_path: Path) -> None:
    first = run(tmp_path, SCHEME, {"A": small(defaults__runs__blue__bends__radius="2 in")})
    old = tmp_path / "old.json"
    old.write_text(result_json(first.klass.rubric, first.made, first.class_, first.picture), encoding="utf-8")
    again = by_name(run(tmp_path, SCHEME, {"A": small(water__static="92 psi")}, before=str(old)))["A"]
    assert {one.rule for one in again.mended} == {"bend_radius"}
    assert "static_pressure" in {one.rule for one in again.new}
    assert again.still > 0  # the advice that the small plan has anyhow


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name,who\na,b\n", "does not name the columns"),
        ("file,candidate\na.plan.yaml\n", "lacks a file or a candidate"),
        ("file,candidate\na,C1\na,C2\n", "stands there twice"),
        ("file,candidate\na,C1\nb,C1\n", "stands for two files"),
        ("", "does not name the columns"),
    ],
)
def test_rosters_that_cannot_be_used(tmp_path: Path, text: str, says: str) -> None:
    from plancheck.grading.roster import load_roster

    (tmp_path / "roster.csv").write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable, match=says):
        load_roster(str(tmp_path / "roster.csv"))


@pytest.mark.parametrize("report", ["screen", "json", "csv"])
def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str], report: str) -> None:
    (tmp_path / "a.rubric.yaml").write_text(json.dumps(SCHEME), encoding="utf-8")
    (tmp_path / "one.plan.json").write_text(json.dumps(SMALL), encoding="utf-8")
    arguments = ["grade", str(tmp_path / "a.rubric.yaml"), str(tmp_path), "--today", "2026-05-05", "--report", report]
    assert command(arguments) == 0
    assert "plan-" in capsys.readouterr().out


def test_wrong_arguments_are_told_without_a_traceback(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.rubric.yaml").write_text(json.dumps(SCHEME), encoding="utf-8")
    (tmp_path / "empty").mkdir()
    for more in (["empty"], ["a.rubric.yaml", "--today", "soon"], ["a.rubric.yaml", "--before", "a.rubric.yaml"], ["nothing.plan.yaml", "--marks", "none"]):  # fmt: skip
        arguments = [str(tmp_path / one) if not one.startswith("--") and one != "soon" else one for one in more]
        assert command(["grade", str(tmp_path / "a.rubric.yaml"), *arguments]) in (0, 2)
    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert "there is no plan in it" in said


def test_the_json_is_as_its_schema_says(tmp_path: Path) -> None:
    from jsonschema import Draft202012Validator

    schema = json.loads((Path(__file__).parents[2] / "schemas" / "result.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    scheme = {**SCHEME, "critical": {"bent": {"title": "Bent", "rules": ["bend_radius"], "severity": "advice", "cap": 49}}}
    plans = {f"C{number}": small(defaults__runs__blue__bends__radius=f"{number} in") for number in range(1, 7)}
    result = run(tmp_path, scheme, {**plans, "torn": "parts: ["})
    whole = json.loads(result_json(result.klass.rubric, result.made, result.class_, result.picture))
    assert not list(Draft202012Validator(schema).iter_errors(whole))
    assert whole["class"]["size"] == 7
    assert whole["class"]["critical"]
