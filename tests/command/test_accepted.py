"""--accepted and --accept: old piles are told no more, what is new is, and so are hazards."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plancheck.accepted import Accepted, Entry, accepted_text, part, read_accepted
from plancheck.errors import Unreadable
from tests.command.local import BURSTING, FEW, FREE, ROOT, STRONG, TODAY, Command, command, findings

__all__ = ["command"]
SCHEMA = json.loads((ROOT / "schemas" / "accepted.schema.json").read_text(encoding="utf-8"))


def accept(command: Command, *plans: str, file: str = "old.json") -> Path:
    """Records today's findings of the plans."""
    path = command.folder / file
    command("check", *plans, *TODAY, *FEW, "--accepted", str(path), "--accept")
    return path


def test_what_is_recorded_follows_its_schema_is_sorted_and_the_same_twice(command: Command) -> None:
    plans = [command.plan(name, STRONG, FREE) for name in ("den.plan.yaml", "barn.plan.yaml")]
    file = accept(command, *plans)
    first = file.read_bytes()
    data = json.loads(first)
    jsonschema.validate(data, SCHEMA, jsonschema.Draft202012Validator)
    rows = [tuple(one.values()) for one in data["accepted"]]
    assert rows == sorted(rows)
    assert {row[0] for row in rows} == {"den.plan.yaml", "barn.plan.yaml"}
    assert command.number == 0
    assert f"{len(rows)} findings accepted as of 2026-05-05" in command.err
    accept(command, *reversed(plans))
    assert file.read_bytes() == first


def test_later_only_what_is_new_is_told(command: Command) -> None:
    file = accept(command, command.plan("den.plan.yaml", STRONG))
    plan = command.plan("den.plan.yaml", STRONG, FREE)
    found = command.reports(plan, "--accepted", str(file))[0]
    assert command.number == 1
    assert {rule for rule, _ in findings(found)} == {"support_spacing"}
    assert [one["rule"] for one in found["accepted"]] == ["static_pressure"]
    assert (found["counts"]["accepted"], found["stale"]) == (1, [])
    text = " ".join(command("check", plan, *TODAY, *FEW, "--accepted", str(file)).out.split())
    assert "Findings accepted as of 2026-05-05" in text
    assert "told no more: 1. Hazards are, every time." in text
    assert "correction, static_pressure (1)" in text


def test_what_is_gone_is_told_and_taken_out_when_recorded_anew(command: Command) -> None:
    file = accept(command, command.plan("den.plan.yaml", STRONG))
    plan = command.plan()
    found = command.reports(plan, "--accepted", str(file))[0]
    assert [(one["rule"], one["path"]) for one in found["stale"]] == [("static_pressure", "/water/static")]
    assert (
        "found no more: record anew with --accept" in command("check", plan, *TODAY, *FEW, "--accepted", str(file)).out
    )
    accept(command, plan)
    assert json.loads(file.read_text(encoding="utf-8"))["accepted"] == []


def test_a_rule_that_is_not_run_leaves_its_entries_alone(command: Command) -> None:
    plan = command.plan("den.plan.yaml", STRONG, FREE)
    file = accept(command, plan)
    before = file.read_bytes()
    call = ("check", plan, *TODAY, "--only", "heat_standoff", "--accepted", str(file))
    assert "found no more" not in command(*call).out
    command(*call, "--accept")
    assert file.read_bytes() == before


def test_a_hazard_is_told_every_time(command: Command) -> None:
    plan = command.plan("den.plan.yaml", BURSTING)
    file = accept(command, plan)
    assert command.number == 1
    found = command.reports(plan, "--accepted", str(file))[0]
    assert findings(found) == [("static_pressure", "hazard")]
    assert "Accepted as of 2026-05-05; a hazard is told every time." in found["findings"][0]["caution"]
    assert found["stale"] == []


def test_what_has_grown_worse_is_new(command: Command) -> None:
    file = accept(command, command.plan("den.plan.yaml", STRONG))
    found = command.reports(command.plan("den.plan.yaml", BURSTING), "--accepted", str(file))[0]
    assert findings(found) == [("static_pressure", "hazard")]
    assert "as correction; it is a hazard now" in found["findings"][0]["caution"]
    assert found["stale"] == []


def test_other_words_at_the_same_place_are_known_again(command: Command) -> None:
    file = accept(command, command.plan("den.plan.yaml", STRONG))
    plan = command.plan("den.plan.yaml", ("static: 62 psi", "static: 96 psi"))
    assert findings(command.reports(plan, "--accepted", str(file))[0]) == []


def test_plans_are_known_from_wherever_one_stands(command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    (command.folder / "jobs").mkdir()
    plan = command.plan("jobs/den.plan.yaml", STRONG)
    file = accept(command, plan)
    assert json.loads(file.read_text(encoding="utf-8"))["accepted"][0]["file"] == "jobs/den.plan.yaml"
    monkeypatch.chdir(command.folder / "jobs")
    assert command("check", "den.plan.yaml", *TODAY, *FEW, "--accepted", os.path.join("..", "old.json")).number == 0


def test_other_plans_keep_their_entries(command: Command) -> None:
    den, barn = (command.plan(name, STRONG) for name in ("den.plan.yaml", "barn.plan.yaml"))
    file = accept(command, den, barn)
    before = file.read_bytes()
    accept(command, barn)
    assert file.read_bytes() == before
    command.write("den.plan.yaml", "plancheck: 1\n")
    accept(command, den, barn)
    assert command.number == 2
    assert file.read_bytes() == before


def test_a_plan_of_which_a_rule_failed_keeps_its_entries(command: Command) -> None:
    from tests.command.test_command import rules

    plan = command.plan()
    folder = rules(command.folder, 'broken("x", "correction")')
    file = command.folder / "old.json"
    call = ("check", plan, *TODAY, "--only", "own_rule", "--rules", folder, "--accepted", str(file))
    assert command(*call, "--accept").number == 0
    before = file.read_bytes()
    rules(command.folder, "1 / 0")
    assert command(*call, "--accept").number == 3
    assert "found no more" not in command.out
    assert file.read_bytes() == before


def test_findings_on_waivers_are_never_accepted(command: Command) -> None:
    waiver = "waivers:\n  - {rule: static_pressure, at: /parts/lav, because: a, by: b, until: 2026-12-31}\n"
    file = accept(command, command.plan(more=waiver))
    assert json.loads(file.read_text(encoding="utf-8"))["accepted"] == []


def test_wrong_calls_are_refused_and_write_nothing(command: Command) -> None:
    plan = command.plan()
    before = Path(plan).read_bytes()
    for call, words in (
        (("--accept",), "--accepted FILE"),
        (("--accepted", str(command.folder / "none.json")), "write it with --accept"),
        (("--accepted", plan, "--accept"), "written over"),
        (("--accepted", str(command.folder), "--accept"), "a folder"),
        (
            ("--accepted", str(command.folder / "no" / "old.json"), "--accept"),
            "the accepted findings cannot be written",
        ),
    ):
        assert command("check", plan, *TODAY, *FEW, *call).number == 2
        assert words in command.err
        assert command.out == ""
    assert Path(plan).read_bytes() == before
    assert [one.name for one in command.folder.iterdir()] == ["den.plan.yaml"]


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"plancheck": 2}', '{"plancheck": 1, "recorded": "2026-05-05", "accepted": [{}]}']
)
def test_a_damaged_file_is_refused_and_left_as_it_is(command: Command, text: str) -> None:
    file = command.write("old.json", text)
    for more in ((), ("--accept",)):
        assert command("check", command.plan(), *TODAY, *FEW, "--accepted", file, *more).number == 2
        assert "old.json could not be read" in command.err
        assert Path(file).read_text(encoding="utf-8") == text


ODD = st.recursive(st.none() | st.integers() | st.text(max_size=6) | st.sampled_from(["hazard", "advice"]), lambda inner: st.lists(inner, max_size=2), max_leaves=4)  # fmt: skip
ENTRY = st.dictionaries(st.sampled_from(["file", "rule", "path", "severity", "says", "x"]), ODD, max_size=6)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(ENTRY, max_size=3), st.binary(max_size=4), st.integers(0, 200))
def test_a_mangled_file_is_read_or_refused_with_words(
    command: Command, changes: list[dict[str, Any]], put: bytes, at: int
) -> None:
    entry = {"file": "den.plan.yaml", "rule": "x", "path": "/a", "severity": "advice", "says": "y\x7f\U0001f6bf"}
    whole = {"plancheck": 1, "recorded": "2026-05-05", "accepted": [{**entry, **change} for change in changes]}
    raw = json.dumps(whole).encode()
    file = command.folder / "old.json"
    file.write_bytes(raw[:at] + put + raw[at:])
    try:
        found = read_accepted(str(file))
    except Unreadable as wrong:
        assert all(one.says and one.mend for one in wrong.problems)
        return
    assert part(found, str(command.folder / "den.plan.yaml"), [], frozenset("x"), frozenset("x")).told == []


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(st.characters(exclude_categories=("Cs",)), max_size=20))
def test_any_words_come_back(command: Command, words: str) -> None:
    old = Accepted("old.json", "2026-05-05", (Entry("a.plan.yaml", "x", f"/runs/{words}", "advice", words),))
    text = accepted_text(old, "old.json", (), frozenset(), "2026-05-06")
    assert read_accepted(command.write("old.json", text)).entries == old.entries
