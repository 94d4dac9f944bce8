"""JUnit: held against its schema; failed, skipped and passed as the outcomes are."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.report.making import EVIL, MISTAKES, SAMPLES, SMALL, cases_of, junit, report, rules


@pytest.mark.parametrize("stop", ["hazard", "correction", "advice"])
def test_failures_are_the_findings_from_the_stop_level_on(tmp_path: Path, stop: str) -> None:
    import json

    [suite] = junit(tmp_path, MISTAKES, "--stop-at", stop)
    told = json.loads(report(tmp_path, "json", MISTAKES)[1])["plans"][0]
    levels = ("hazard", "correction", "advice")
    stopping = [one for one in told["findings"] if levels.index(one["severity"]) <= levels.index(stop)]
    cases = cases_of(suite)
    failed = {name for name, case in cases.items() if case.find("failure") is not None}
    assert failed == {one["rule"] for one in stopping}
    for one in told["findings"]:
        tag = "failure" if one in stopping else "system-out"
        text = cases[one["rule"]].findtext(tag)
        assert text is not None
        assert f"{one['number']}. {one['severity'].upper()}  {one['subject']}" in text
        assert one["mend"] in text


def test_a_suite_a_plan_and_a_case_a_rule(tmp_path: Path) -> None:
    top = junit(tmp_path, *map(str, SAMPLES))
    assert [suite.attrib["name"] for suite in top] == [str(path) for path in SAMPLES]
    names = [list(cases_of(suite)) for suite in top]
    assert all(one == names[0] for one in names)
    assert "test_port" in names[0]


@pytest.mark.parametrize(
    ("answer", "more", "tag", "words"),
    [
        ("lost()", (), "skipped", "a figure {x: 1}"),
        ("lost()", ("--must-show", "own_rule"), "failure", "a figure {x: 1}"),
        ("on_site('look behind it')", (), "skipped", "nothing judged here: 1 on site"),
        ("on_site('look behind it')", (), "system-out", "look behind it"),
        ("broken('odd', 'advice')", (), "system-out", "odd"),
        ("1 / 0", (), "error", "ZeroDivisionError"),
        ("1 / 0", ("--must-show", "all"), "error", "ZeroDivisionError"),
    ],
)
def test_outcomes(tmp_path: Path, answer: str, more: tuple[str, ...], tag: str, words: str) -> None:
    [suite] = junit(tmp_path, str(SMALL), *rules(tmp_path, answer), *more)
    case = cases_of(suite)["own_rule"]
    assert words in (case.findtext(tag) or "")
    verdicts = [one.tag for one in case if one.tag in ("failure", "error", "skipped")]
    assert len(verdicts) == (0 if answer.startswith("broken") else 1)


def test_what_holds_passes_and_what_is_not_there_does_not(tmp_path: Path) -> None:
    [suite] = junit(tmp_path, str(SMALL), *rules(tmp_path, "holds()"))
    assert list(cases_of(suite)["own_rule"]) == []
    [suite] = junit(tmp_path, str(SMALL), "--only", "recirculation_class")
    assert cases_of(suite)["recirculation_class"].findtext("skipped") == "nothing of the kind in this plan"


def test_an_unread_plan_is_a_suite_with_an_error(tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("a: yes\nb: no\n", encoding="utf-8")
    first, second = junit(tmp_path, str(bad), str(SMALL), "--only", "test_port")
    assert [first.attrib["name"], second.attrib["name"]] == [str(SMALL), str(bad)]
    assert (second.attrib["tests"], second.attrib["errors"]) == ("1", "1")
    assert "line 1, column 4" in (second.findtext("testcase/error") or "")


def test_signs_that_xml_cannot_hold(tmp_path: Path) -> None:
    text = SMALL.read_text("utf-8").replace("title: Test cottage", f"title: {EVIL}")
    plan = tmp_path / "evil.plan.yaml"
    plan.write_text(text, encoding="utf-8")
    [suite] = junit(tmp_path, str(plan), *rules(tmp_path, f"broken({EVIL}, 'correction')"))
    said = cases_of(suite)["own_rule"].findtext("failure") or ""
    assert "\\x01" in said
    assert "<b> ]]>" in said
