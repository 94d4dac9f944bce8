"""check --amend and why --amend: local limits in every report."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.command.local import BURSTING, FEW, ROOT, STRONG, TODAY, Command, command, findings

__all__ = ["command"]
HEAD = "plancheck: 1\nauthority: Fenmark County\nedition: 2024\ndate: 2026-01-15\nlimits:\n"


def amended(command: Command, *entries: str) -> str:
    return command.write("a.amendments.yaml", HEAD + "".join(f"  {entry}\n" for entry in entries))


def test_a_stricter_value_is_found_and_cited(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {value: 60 psi, clause: '4.2', because: old mains}")
    plan = command.plan()
    assert findings(command.reports(plan)[0]) == []
    found = command.reports(plan, "--amend", file)[0]
    limit = found["findings"][0]["limit"]
    assert (command.number, limit["value"], limit["unit"], limit["read"]) == (1, 60, "psi", "amended")
    assert (limit["source"], limit["clause"], limit["authority"]) == ("Fenmark County 2024", "4.2", "Fenmark County")
    assert (limit["because"], limit["instead"]) == ("old mains", "80 psi, UPC 2015 608.2")
    text = " ".join(command("check", plan, "--amend", file, *TODAY, *FEW).out.split())
    said = "at most 60 psi - Fenmark County 2024 4.2, amended, instead of 80 psi, UPC 2015 608.2, because old mains"
    assert said in text
    assert "Amended by Fenmark County 2024 of 2026-01-15" in text


def test_the_mend_keeps_to_the_value_in_force(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {value: 50 psi, because: old mains}")
    mend = command.reports(command.plan("den.plan.yaml", STRONG), "--amend", file)[0]["findings"][0]["mend"]
    assert "a regulator set to 50 psi or less" in mend
    assert "55 to 60 psi" not in mend


def test_a_looser_value_is_told_at_the_head(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {value: 100 psi, because: a high hill}")
    found = command.reports(command.plan("den.plan.yaml", STRONG), "--amend", file)[0]
    assert findings(found) == []
    assert "looser than the model code: at most 100 psi, not 80 psi" in found["remarks"][1]


def test_a_severity_decides_the_exit_number(command: Command) -> None:
    plan = command.plan("den.plan.yaml", STRONG)
    assert findings(command.reports(plan)[0]) == [("static_pressure", "correction")]
    file = amended(command, "static_pressure.highest: {severity: advice, because: pumped at night}")
    assert findings(command.reports(plan, "--amend", file)[0]) == [("static_pressure", "advice")]
    assert command.number == 0
    text = " ".join(command("check", plan, "--amend", file, *TODAY, *FEW).out.split())
    assert "608.2, read, advice here by Fenmark County 2024, because pumped at night" in text


def test_what_is_switched_off_is_on_site_and_a_hazard_stays(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {judged: false, because: the city looks itself}")
    found = command.reports(command.plan("den.plan.yaml", STRONG), "--amend", file)[0]
    assert findings(found) == []
    assert any("switched off by Fenmark County 2024 because the city" in one["says"] for one in found["on_site"])
    assert "static_pressure.highest is switched off" in found["remarks"][1]
    found = command.reports(command.plan("den.plan.yaml", BURSTING), "--amend", file)[0]
    assert findings(found) == [("static_pressure", "hazard")]
    assert "told all the same" in found["findings"][0]["caution"]


def test_amended_words_are_quoted_in_the_finding(command: Command) -> None:
    plan = str(ROOT / "sample_plans" / "boathouse-mistakes.plan.yaml")
    file = amended(command, "branch_shutoff.main: {value: a stop cock in a box at the fence, because: frost}")
    text = " ".join(command("check", plan, "--amend", file, "--only", "branch_shutoff", *TODAY).out.split())
    assert "Fenmark County 2024, amended, 'a stop cock in a box at the fence', instead of fullway valve" in text


def test_why_prints_the_value_in_force(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {value: 70 psi, clause: '4.2', because: old mains}")
    assert command("why", "static_pressure", "--amend", file).number == 0
    assert "in force 70 psi: Fenmark County 2024 4.2 (amended), because old mains" in command.out
    assert "in force" not in command("why", "static_pressure").out
    assert "in force" not in command("why", "bend_radius", "--amend", file).out
    assert "not judged unless amended" in command("why", "pressure_test").out


def test_the_sample_city_finds_a_test_at_the_working_pressure_too_low(command: Command) -> None:
    more = "tests:\n  first: {medium: water, start: 70 psi, end: 70 psi, held: 40 min, covers: [cold, hot]}\n"
    plan = command.plan(more=more)
    only = ("--only", "pressure_test", "--report", "json")
    assert command("check", plan, *only, *TODAY).number == 0
    sample = str(ROOT / "sample_plans" / "port-velden.amendments.yaml")
    assert command("check", plan, *only, *TODAY, "--amend", sample).number == 1
    assert "made at 70 psi; 100 psi is the least, whatever the house works at" in command.out
    assert "City of Port Velden" in command.out


@pytest.mark.parametrize("sample", ["highmere-county", "port-velden"])
@pytest.mark.parametrize("plan", sorted((ROOT / "sample_plans").glob("*.plan.yaml")), ids=lambda file: file.stem)
def test_the_samples_go_with_every_sample_plan(command: Command, sample: str, plan: Path) -> None:
    file = str(ROOT / "sample_plans" / f"{sample}.amendments.yaml")
    first = command("check", str(plan), "--amend", file, "--report", "json", *TODAY).out
    assert command.number in (0, 1)
    assert command("check", str(plan), "--amend", file, "--report", "json", *TODAY).out == first


def test_bad_amendments_exit_with_2_and_print_no_report(command: Command) -> None:
    plan = command.plan()
    file = amended(command, "static_presure.highest: {value: 70 psi, because: x}", "test_port.x: {because: y}")
    for call in (("check", plan, "--amend", file), ("why", "test_port", "--amend", file)):
        assert command(*call).number == 2
        assert command.out == ""
        assert "line 6, column 3: static_presure.highest: there is no rule 'static_presure'" in command.err
        assert "did you mean static_pressure?" in command.err
        assert "line 7, column 3" in command.err
    assert command("check", plan, "--amend", plan).number == 2
    assert command("check", plan, "--amend", str(command.folder)).number == 2
    assert command("check", plan, "--amend", "no\0where").number == 2


def test_the_report_never_takes_the_place_of_the_amendments(command: Command) -> None:
    file = amended(command, "static_pressure.highest: {value: 70 psi, because: x}")
    assert command("check", command.plan(), "--amend", file, "--out", file).number == 2
    assert "would take its place" in command.err
    assert Path(file).read_text(encoding="utf-8").startswith("plancheck: 1")


def test_the_example_of_the_readme_is_taken(command: Command) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    block = text[text.index("## Local rules") :].split("```yaml\n")[1].split("```")[0]
    assert command("check", command.plan(), "--amend", command.write("readme.yaml", block), *TODAY).number in (0, 1)
    assert "ring_benefit.large is switched off" in command.out


def test_nothing_of_it_is_loaded_when_it_is_not_asked_for() -> None:
    import subprocess

    code = (
        "import sys; from plancheck.cli import run; "
        "run(['check', 'tests/cases/base/small.plan.yaml', '--only', 'test_port']); "
        "print('LOADED', *sorted(name for name in sys.modules if name.startswith('plancheck.') and "
        "name.split('.')[1] in ('amendments', 'accepted', 'waiverfile', 'localcalls', 'smallshape', 'smallfaults')))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.splitlines()[-1] == "LOADED"
