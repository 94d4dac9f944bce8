"""Folders of plans: which are taken, what is passed over, the summary, several processes."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import yaml

from plancheck.report.data import Brief
from plancheck.report.summary import summary_text
from plancheck.walking import ENDINGS, walk
from tests.report.making import ROOT, SMALL, TODAY, command, rules

FEW = ("--only", "bend_radius", "--only", "test_port", *TODAY)


def pile(folder: Path, *names: str) -> Path:
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(SMALL.read_bytes())
    return folder


def taken(folder: Path, *said: str) -> list[str]:
    return [os.path.relpath(plan, folder).replace(os.sep, "/") for plan in walk(said or (str(folder),)).plans]


def test_plans_by_name_folder_by_folder(tmp_path: Path) -> None:
    pile(
        tmp_path, "b.plan.yaml", "a/z.plan.json", "a/c.plan.yaml", "a.plan.yaml", "C.plan.yaml", "a/deep/er/x.plan.yaml"
    )
    pile(tmp_path / "dir.plan.yaml", "in.plan.yaml")
    order = ["C.plan.yaml", "a.plan.yaml", "b.plan.yaml", "a/c.plan.yaml", "a/z.plan.json", "a/deep/er/x.plan.yaml"]
    assert taken(tmp_path) == [*order, "dir.plan.yaml/in.plan.yaml"]


def test_what_is_passed_over_is_told_with_its_reason(tmp_path: Path) -> None:
    pile(tmp_path, "a.plan.yaml", ".old/b.plan.yaml", ".c.plan.yaml", "house.yaml", "D.PLAN.YAML", "e.plan.yml", "f.md")
    (tmp_path / "loop").symlink_to(tmp_path, target_is_directory=True)
    walked = walk([str(tmp_path / "a.plan.yaml"), str(tmp_path)])
    assert taken(tmp_path, str(tmp_path / "a.plan.yaml"), str(tmp_path)) == ["a.plan.yaml"]
    assert walked.skipped.splitlines() == [
        f"{tmp_path}, passed over:",
        "  hidden: .c.plan.yaml, .old/",
        "  links to folders, which are not followed: loop/",
        "  named twice: a.plan.yaml",
        "  not named *.plan.yaml or *.plan.json: D.PLAN.YAML, e.plan.yml, house.yaml",
        "  other files: 1",
    ]
    assert walked.problems == ()


def test_many_names_are_cut_and_none_writes_to_the_terminal(tmp_path: Path) -> None:
    pile(tmp_path, "a.plan.yaml", *(f"{number}.yaml" for number in range(20)), ".\x1b[31mred")
    said = walk([str(tmp_path)]).skipped
    assert "0.yaml, 1.yaml, 10.yaml, 11.yaml, 12.yaml, 13.yaml and 14 more" in said
    assert "\x1b" not in said


def test_the_folder_itself_may_be_hidden_or_the_one_we_are_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pile(tmp_path / ".plans", "a.plan.yaml", "sub/b.plan.yaml")
    monkeypatch.chdir(tmp_path / ".plans")
    assert walk(["."]).plans == ("a.plan.yaml", os.path.join("sub", "b.plan.yaml"))
    assert taken(tmp_path, str(tmp_path / ".plans")) == [".plans/a.plan.yaml", ".plans/sub/b.plan.yaml"]


def test_a_folder_without_plans_is_an_error_and_the_rest_is_checked(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    pile(tmp_path / "full", "a.plan.yaml")
    done = command("check", str(tmp_path / "empty"), *FEW)
    assert (done.returncode, done.stdout) == (2, "")
    assert "there is no *.plan.yaml or *.plan.json in this folder" in done.stderr
    both = command("check", str(tmp_path / "empty"), str(tmp_path / "full"), *FEW, "--report", "json")
    assert both.returncode == 2
    data = json.loads(both.stdout)
    assert [len(data["plans"]), data["unread"][0]["file"]] == [1, str(tmp_path / "empty")]


def test_a_folder_that_cannot_be_opened_is_not_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pile(tmp_path, "a.plan.yaml", "shut/b.plan.yaml")
    real = os.scandir

    def scandir(folder: str) -> object:
        if folder.endswith("shut"):
            raise PermissionError(13, "Permission denied")
        return real(folder)

    monkeypatch.setattr("plancheck.walking.os.scandir", scandir)
    walked = walk([str(tmp_path)])
    assert [problem.file for problem in walked.problems] == [str(tmp_path / "shut")]


def test_the_hook_for_pre_commit_takes_the_files_that_a_folder_gives() -> None:
    [hook] = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert hook["entry"].split() == ["plancheck", "check"]
    for name in ("a.plan.yaml", "plans/b.plan.json", "a.yaml", "a.plan.yml", "plan.yaml", "a.plan.yaml.bak"):
        assert bool(re.search(hook["files"], name)) == name.endswith(ENDINGS)


def test_the_summary_comes_last_and_only_for_several(tmp_path: Path) -> None:
    pile(tmp_path, "a.plan.yaml", "b.plan.yaml")
    (tmp_path / "c.plan.yaml").write_text("a: yes\n", encoding="utf-8")
    done = command("check", ".", *rules(tmp_path, "broken('x', 'correction')"), *TODAY, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stdout.split("\nSummary\n")[1].splitlines() == [
        "",
        "plan         verdict        hazards  corrections  advice  not shown",
        "a.plan.yaml  findings             0            1       0          0",
        "b.plan.yaml  findings             0            1       0          0",
        "c.plan.yaml  unreadable           -            -       -          -",
        "",
        "Rules by number of findings",
        "own_rule  2 in 2 plans",
        "",
        "3 plans: findings 2, unreadable 1.",
    ]
    assert "Summary" not in command("check", "a.plan.yaml", *FEW, cwd=tmp_path).stdout


@pytest.mark.parametrize("width", [1, 40, 60, 80, 96, 200])
def test_the_summary_keeps_to_the_width(width: int) -> None:
    counts = {"hazard": 1, "correction": 22, "advice": 333, "not shown": 4444}
    briefs = [Brief(f"plans/{'long-' * n}name\x1b.plan.yaml", "findings", counts, {"bend_radius": n}) for n in (1, 5)]
    text = summary_text([*briefs, Brief("x", "unreadable", {}, {})], width)
    assert max(map(len, text.splitlines())) <= max(40, width)
    assert "\x1b" not in text
    assert "bend_radius  6 in 2 plans" in text
    for number in ("22", "333", "4444"):
        assert text.count(number) >= 2


@pytest.mark.parametrize("format_", ["screen", "json", "sarif", "junit"])
def test_several_processes_give_the_same_bytes(tmp_path: Path, format_: str) -> None:
    pile(tmp_path, *(f"{name}.plan.yaml" for name in "abcdef"))
    (tmp_path / "c.plan.yaml").write_text("a: yes\n", encoding="utf-8")
    local = (
        *rules(tmp_path, "broken(subject.name, 'correction')"), "--only", "static_pressure", "--only", "bend_radius",
        "--amend", str(ROOT / "sample_plans" / "highmere-county.amendments.yaml"), *TODAY, "--report", format_,
    )  # fmt: skip
    one = command("check", str(tmp_path), *local)
    many = command("check", str(tmp_path), *local, "--jobs", "3")
    assert (one.returncode, one.stdout, one.stderr) == (many.returncode, many.stdout, many.stderr)
    assert one.returncode == 2
    assert "own_rule" in one.stdout


def test_a_rule_that_fails_in_another_process_fails_the_run(tmp_path: Path) -> None:
    pile(tmp_path, "a.plan.yaml", "b.plan.yaml")
    done = command("check", str(tmp_path), *rules(tmp_path, "1 / 0"), *TODAY, "--jobs", "2")
    assert done.returncode == 3
    assert done.stdout.count("ZeroDivisionError") == 2


@pytest.mark.parametrize("jobs", ["1", "2"])
@pytest.mark.parametrize("after_s", [0.15, 0.3, 0.6])
def test_an_interrupt_ends_it_quietly(tmp_path: Path, jobs: str, after_s: float) -> None:
    if sys.platform == "win32":
        pytest.skip("interrupts of a group of processes are another thing here")
    pile(tmp_path / "plans", *(f"{number}.plan.yaml" for number in range(20)))
    slow = rules(tmp_path, "[__import__('time').sleep(0.3), holds()][1]")
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); from plancheck.__main__ import main; sys.exit(main())"
    made = tmp_path / "made.json"
    arguments = ("check", str(tmp_path / "plans"), *slow, "--jobs", jobs, "--report", f"json={made}")
    process = subprocess.Popen(
        [sys.executable, "-c", code, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        start_new_session=True,
    )  # fmt: skip
    time.sleep(after_s)
    os.killpg(process.pid, signal.SIGINT)
    out, err = process.communicate(timeout=20)
    if process.returncode == -signal.SIGINT or "KeyboardInterrupt" in err:
        pytest.skip("the interrupt came before the program had begun")
    assert (process.returncode, out, err) == (130, "", "")
    assert not made.exists()


def test_progress_is_for_a_terminal_and_a_long_run() -> None:
    if sys.platform == "win32":
        pytest.skip("no pty here")
    before = "import plancheck.progress as p; p.PATIENCE_S = -1.0; import sys;sys.stderr.isatty = lambda: TERMINAL"
    call = ("check", *[str(SMALL)] * 3, *FEW)
    shown = command(*call, before=f"TERMINAL = True; {before}")
    quiet = command(*call, before=f"TERMINAL = False; {before}")
    assert "3/3" in shown.stderr
    assert quiet.stderr == ""
    assert shown.stdout == quiet.stdout


def test_a_link_in_a_circle_is_one_plan_that_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / "a.plan.yaml").write_bytes(SMALL.read_bytes())
    (tmp_path / "round.plan.yaml").symlink_to("round.plan.yaml")
    assert taken(tmp_path) == ["a.plan.yaml", "round.plan.yaml"]
    done = command("check", str(tmp_path), *FEW)
    assert done.returncode == 2
    assert "round.plan.yaml could not be read:" in done.stderr
