"""Waivers of the plan and of --waivers: what they take out, and what is said of those that do not hold."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plancheck.check import facts_of
from plancheck.errors import Unreadable
from plancheck.reading import read_bytes
from plancheck.report.waivers import apply_waivers
from plancheck.waiverfile import load_waivers
from tests.command.local import BURSTING, FEW, SMALL, STRONG, TODAY, Command, command, findings

__all__ = ["command"]
GOOD = {"rule": "static_pressure", "at": "/water", "because": "agreed", "by": "crew 2", "until": "2026-12-31"}


def in_plan(*waivers: dict[str, str]) -> str:
    return "waivers:\n" + "".join(f"  - {json.dumps(one)}\n" for one in waivers)


def in_file(command: Command, *waivers: dict[str, str], **head: str) -> str:
    return command.write("w.json", json.dumps({"plancheck": 1, **head, "waivers": waivers}))


def test_a_waiver_takes_a_finding_out_and_the_report_keeps_it(command: Command) -> None:
    plan = command.plan("den.plan.yaml", STRONG, more=in_plan(GOOD))
    found = command.reports(plan)[0]
    assert (command.number, findings(found)) == (0, [])
    assert [(one["rule"], one["by"], one["authority"]) for one in found["waived"]] == [
        ("static_pressure", "crew 2", "")
    ]
    assert found["tally"]["waiver"]["holds"] == 1
    text = " ".join(command("check", plan, *TODAY, *FEW).out.split())
    assert "correction, static_pressure at /water/static: " in text
    assert "Waived by crew 2 until 2026-12-31: agreed." in text


def test_a_file_of_waivers_does_the_same(command: Command) -> None:
    plan = command.plan("den.plan.yaml", STRONG)
    assert command("check", plan, *TODAY, *FEW).number == 1
    found = command.reports(plan, "--waivers", in_file(command, GOOD))[0]
    assert (command.number, findings(found), len(found["waived"])) == (0, [], 1)


FAULTS = {
    "no reason": ({"because": ""}, "does not say 'because'", "advice"),
    "nobody": ({"by": ""}, "does not say 'by'", "advice"),
    "no end": ({"until": ""}, "does not say 'until'", "advice"),
    "past": ({"until": "2026-05-04"}, "ended on 2026-05-04", "advice"),
    "no rule": ({"rule": "static_presure"}, "no rule 'static_presure'", "advice"),
    "no such path": ({"at": "/water/statc"}, "nothing at /water/statc", "advice"),
    "no finding there": ({"at": "/parts/lav"}, "finds nothing at /parts/lav", "advice"),
    "half a step": ({"at": "/wat"}, "nothing at /wat", "advice"),
    "the whole plan": ({"at": "/"}, "the whole plan", "advice"),
}


@pytest.mark.parametrize("name", FAULTS)
@pytest.mark.parametrize("where", ["plan", "file"])
def test_one_that_does_not_hold_is_a_finding_of_its_own(command: Command, name: str, where: str) -> None:
    change, says, severity = FAULTS[name]
    waiver = {key: value for key, value in {**GOOD, **change}.items() if value}
    more = in_plan(waiver) if where == "plan" else ""
    plan = command.plan("den.plan.yaml", STRONG, more=more)
    local = ("--waivers", in_file(command, waiver)) if where == "file" else ()
    found = command.reports(plan, *local)[0]
    assert sorted(findings(found)) == [("static_pressure", "correction"), ("waiver", severity)]
    own = next(one for one in found["findings"] if one["rule"] == "waiver")
    assert says in own["says"]
    assert own["mend"]
    assert own["file"] == (local[1] if local else "")
    assert own["line"] == (1 if local else plan_line(plan, "waivers:") + 1)
    assert found["tally"]["waiver"]["broken"] == 1


def plan_line(file: str, text: str) -> int:
    with open(file, encoding="utf-8") as handle:
        return handle.read().splitlines().index(text) + 1


def test_the_last_day_still_holds(command: Command) -> None:
    waiver = {**GOOD, "until": "2026-05-05"}
    assert findings(command.reports(command.plan("den.plan.yaml", STRONG, more=in_plan(waiver)))[0]) == []


def test_a_hazard_takes_an_authority(command: Command) -> None:
    found = command.reports(command.plan("den.plan.yaml", BURSTING, more=in_plan(GOOD)))[0]
    assert sorted(findings(found)) == [("static_pressure", "hazard"), ("waiver", "correction")]
    signed = {**GOOD, "authority": "Fenmark County"}
    plan = command.plan("den.plan.yaml", BURSTING, more=in_plan(signed))
    found = command.reports(plan)[0]
    assert (findings(found), [one["severity"] for one in found["waived"]]) == ([], ["hazard"])
    assert "hazard, static_pressure at" in command("check", plan, *TODAY, *FEW).out
    plan = command.plan("den.plan.yaml", BURSTING)
    assert command.reports(plan, "--waivers", in_file(command, GOOD, authority="Fenmark County"))[0]["findings"] == []
    assert command("check", plan, *TODAY, *FEW, "--waivers", in_file(command, GOOD)).number == 1


@pytest.mark.parametrize("nobody", ["none", "not known"])
@pytest.mark.parametrize("where", ["entry", "head", "plan"])
def test_none_and_not_known_are_no_authority(command: Command, nobody: str, where: str) -> None:
    signed = {**GOOD, "authority": nobody}
    plan = command.plan("den.plan.yaml", BURSTING, more=in_plan(signed) if where == "plan" else "")
    local = {"plan": (), "entry": (signed,), "head": (GOOD,)}[where]
    head = {"authority": nobody} if where == "head" else {}
    found = command.reports(plan, *(("--waivers", in_file(command, *local, **head)) if local else ()))[0]
    assert sorted(findings(found)) == [("static_pressure", "hazard"), ("waiver", "correction")]
    assert found["waived"] == []


def test_a_waiver_for_a_rule_that_is_not_run_today_is_left_alone(command: Command) -> None:
    plan = command.plan(more=in_plan({**GOOD, "rule": "test_port"}))
    found = command.reports(plan)[0]
    assert findings(found) == []
    assert "waiver" not in found["tally"]


def test_two_waivers_of_one_finding_are_one_waived_finding(command: Command) -> None:
    plan = command.plan("den.plan.yaml", STRONG, more=in_plan(GOOD, {**GOOD, "by": "crew 3"}))
    found = command.reports(plan)[0]
    assert (findings(found), [one["by"] for one in found["waived"]]) == ([], ["crew 2"])


def test_with_several_plans_each_waiver_of_a_file_says_its_plan(command: Command) -> None:
    plans = [command.plan(name, STRONG) for name in ("den.plan.yaml", "barn.plan.yaml")]
    assert command("check", *plans, "--waivers", in_file(command, GOOD)).number == 2
    assert "waiver 1 does not say its plan" in command.err
    file = in_file(command, {**GOOD, "plan": "den.plan.yaml"})
    assert [findings(one) for one in command.reports(*plans, "--waivers", file)] == [
        [],
        [("static_pressure", "correction")],
    ]
    assert findings(command.reports(plans[1], "--waivers", file)[0]) == [("static_pressure", "correction")]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('{"plancheck": 1}', "'waivers' is missing"),
        ('{"plancheck": 1, "waivers": {}}', "cannot stand here"),
        ('{"plancheck": 1, "waivers": [{"rule": "x"}]}', "'at' is missing"),
        ('{"plancheck": 1, "waivers": [{"rule": "x", "at": "runs"}]}', "'runs' cannot stand here"),
        ('{"plancheck": 1, "waivers": [{"rule": "x", "at": "/a", "til": "y"}]}', "did you mean until?"),
        ('{"plancheck": 1, "waivers": [{"rule": "x", "at": "/a", "until": "2026-02-30"}]}', "no day of the calendar"),
    ],
)
def test_a_file_that_is_none_is_refused(command: Command, text: str, words: str) -> None:
    assert command("check", command.plan(), "--waivers", command.write("w.json", text)).number == 2
    assert words in command.err
    assert "line 1, column" in command.err


def test_why_tells_of_waivers(command: Command) -> None:
    assert command("why", "waiver").number == 0
    assert "authority" in command.out


KEYS = st.sampled_from(["rule", "at", "because", "by", "until", "authority", "plan"])
VALUES = st.sampled_from(
    ["", "/", "//", "/water", "static_pressure", "x", "2026-12-31", "not known", 3, None, [], "/runs/²", "\x7f"]
)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.dictionaries(KEYS, VALUES | st.text(max_size=8)), max_size=3))
def test_mangled_waivers_are_applied_or_refused_with_words(command: Command, changes: list[dict[str, Any]]) -> None:
    file = command.write("m.json", json.dumps({"plancheck": 1, "waivers": [{**GOOD, **change} for change in changes]}))
    try:
        wanted = load_waivers(file, ("small.plan.yaml",)).for_plan("small.plan.yaml")
    except Unreadable as wrong:
        assert all(one.says and one.mend for one in wrong.problems)
        return
    facts = facts_of(read_bytes(SMALL.encode(), "small.plan.yaml"), "2026-05-05")
    known = frozenset(("static_pressure",))
    done = apply_waivers(facts, [], (), known, known, wanted)
    assert len(done.findings) == len(done.judged) == len(wanted)
