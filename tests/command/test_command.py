"""The command as a user meets it: exit numbers, formats, arguments, files."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

ROOT = Path(__file__).parents[2]
SMALL = "tests/cases/base/small.plan.yaml"
RULE = '''"""A title here

Looks at: nothing.
Why: a test.
To mend: nothing.
Cannot see: anything.
Ask: nobody.
"""
from plancheck.rulekit import Rule, Subject, broken
RULE = Rule(highest="hazard", stage="layout")
def subjects(facts):
    return [Subject(("parts", "lav"), "the lavatory", "bath")]
def check(subject, facts, limits):
    return %s
'''


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "plancheck", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
        timeout=60,
        check=False,
    )


def rules(tmp_path: Path, answer: str) -> str:
    folder = tmp_path / "rules"
    folder.mkdir(exist_ok=True)
    (folder / "own_rule.py").write_text(RULE % answer, encoding="utf-8")
    return str(folder)


def test_exit_numbers(tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("plancheck: 1\n", encoding="utf-8")
    only = ("--only", "own_rule", "--rules")
    assert run("check", SMALL, "--stop-at", "hazard").returncode == 0
    advice = rules(tmp_path, 'broken("x", "advice")')
    assert run("check", SMALL, *only, advice).returncode == 0
    assert run("check", SMALL, *only, advice, "--stop-at", "advice").returncode == 1
    assert run("check", str(bad), *only, advice).returncode == 2
    assert run("check", SMALL, *only, rules(tmp_path, "1 / 0")).returncode == 3


def test_the_highest_number_wins_and_every_readable_plan_is_told(tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("plancheck: 1\n", encoding="utf-8")
    folder = rules(tmp_path, 'broken("x", "correction")')
    done = run("check", str(bad), SMALL, "--only", "own_rule", "--rules", folder)
    assert done.returncode == 2
    assert "Test cottage" in done.stdout
    assert "bad.plan.yaml" in done.stderr
    crashed = run("check", str(bad), SMALL, "--rules", rules(tmp_path, "1 / 0"), "--only", "own_rule")
    assert crashed.returncode == 3
    assert "ZeroDivisionError" in crashed.stdout


def test_json_follows_its_schema_and_is_the_same_twice(tmp_path: Path) -> None:
    schema = json.loads((ROOT / "schemas" / "report.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("a: yes\n", encoding="utf-8")
    folder = rules(tmp_path, 'broken("x", "correction")')
    call = ("check", SMALL, str(bad), "--report", "json", "--rules", folder, "--today", "2026-05-05")
    first, second = run(*call), run(*call)
    assert first.stdout == second.stdout
    data = json.loads(first.stdout)
    jsonschema.validate(data, schema, jsonschema.Draft202012Validator)
    assert data["plancheck"] == 1
    assert data["plans"][0]["findings"]
    assert data["unread"][0]["line"] == 1
    for plan in data["plans"]:
        assert sum(sum(counts.values()) for counts in plan["tally"].values()) == (
            len(plan["findings"]) + len(plan["waived"]) + len(plan["not_shown"]) + len(plan["on_site"])
            + len(plan["later"]) + len(plan["crashed"]) + plan["counts"]["holds"]
        )  # fmt: skip


def test_out_writes_whole_or_not_at_all(tmp_path: Path) -> None:
    target = tmp_path / "report.json"
    target.write_text("old", encoding="utf-8")
    done = run("check", SMALL, "--report", "json", "--out", str(target))
    assert done.returncode in (0, 1)
    assert done.stdout == ""
    assert json.loads(target.read_text(encoding="utf-8"))["plancheck"] == 1
    missing = run("check", SMALL, "--out", str(tmp_path / "no" / "report.txt"))
    assert missing.returncode == 2
    assert "cannot be written" in missing.stderr
    folder = tmp_path / "taken"
    folder.mkdir()
    taken = run("check", SMALL, "--out", str(folder))
    assert taken.returncode == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["report.json", "taken"]


@pytest.mark.parametrize("spelling", ["plan.plan.yaml", "sub/../plan.plan.yaml", "hard.yaml", "soft.yaml"])
def test_out_never_takes_the_place_of_a_plan(tmp_path: Path, spelling: str) -> None:
    plan = tmp_path / "plan.plan.yaml"
    plan.write_bytes((ROOT / SMALL).read_bytes())
    (tmp_path / "sub").mkdir()
    try:
        (tmp_path / "soft.yaml").symlink_to(plan)
        (tmp_path / "hard.yaml").hardlink_to(plan)
    except OSError:
        if spelling in ("soft.yaml", "hard.yaml"):
            pytest.skip("this system makes no such links")
    before = sorted(path.name for path in tmp_path.iterdir())
    for target in (tmp_path / spelling, os.path.relpath(tmp_path / spelling, ROOT)):
        done = run("check", SMALL, str(plan), "--out", str(target))
        assert done.returncode == 2
        assert "the report would take its place" in done.stderr
        assert done.stdout == ""
        assert plan.read_bytes() == (ROOT / SMALL).read_bytes()
        assert sorted(path.name for path in tmp_path.iterdir()) == before
    turned = run("check", str(tmp_path / spelling), "--out", str(plan))
    assert turned.returncode == 2
    assert plan.read_bytes() == (ROOT / SMALL).read_bytes()


def test_a_rule_that_ends_the_program_ends_it_with_3(tmp_path: Path) -> None:
    folder = rules(tmp_path, "exec('raise SystemExit(0)')")
    done = run("check", SMALL, "--only", "own_rule", "--rules", folder)
    assert done.returncode == 3
    assert "SystemExit" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("check",), "required"),
        (("chek", SMALL), "chek"),
        (("check", SMALL, "--only", "test_prot"), "did you mean test_port?"),
        (("check", SMALL, "--must-show", "nothing"), "no rule 'nothing'"),
        (("check", SMALL, "--stop-at", "error"), "invalid choice"),
        (("check", SMALL, "--today", "2026-02-30"), "no day of the calendar"),
        (("check", SMALL, "--today", "yesterday"), "no day of the calendar"),
        (("check", SMALL, "--today", "none"), "no day of the calendar"),
        (("check", SMALL, "--today", "about 2026-01-01"), "no day of the calendar"),
        (("check", SMALL, "--today", "202\u00b2-01-01"), "no day of the calendar"),
        (("check", SMALL, "--today", "2026x01x01"), "no day of the calendar"),
        (("check", SMALL, "--rules", "nowhere"), "no such folder"),
        (("check", "nowhere.plan.yaml"), "no such file"),
        (("check", "schemas"), "there is no *.plan.yaml or *.plan.json in this folder"),
        (("why", "test_prot"), "did you mean test_port?"),
    ],
)
def test_wrong_arguments_exit_with_2_and_say_why(arguments: tuple[str, ...], words: str) -> None:
    done = run(*arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr


def test_version_rules_and_why() -> None:
    assert run("--version").stdout.startswith("plancheck ")
    listed = run("rules").stdout
    assert "test_port" in listed
    assert "Code editions carried" in listed
    why = run("why", "test_port").stdout
    for words in ("Looks at:", "Cannot see:", "Judged from the layout stage on"):
        assert words in why


def test_only_runs_that_rule_alone() -> None:
    data = json.loads(run("check", SMALL, "--only", "test_port", "--report", "json").stdout)
    assert list(data["plans"][0]["tally"]) == ["test_port"]


@pytest.mark.parametrize("width", [1, 20, 40, 60, 96, 200])
def test_no_line_is_wider_than_the_screen_or_40_columns(tmp_path: Path, width: int) -> None:
    folder = rules(tmp_path, 'broken("a long sentence " * 9, "correction", found="f " * 70, mend="m " * 80)')
    done = run("check", SMALL, "--rules", folder, COLUMNS=str(width))
    assert max(len(line) for line in done.stdout.splitlines()) <= max(40, width)
    assert "\x1b" not in done.stdout


@pytest.mark.parametrize(
    ("answer", "more", "last", "number"),
    [
        ('broken("x", "advice")', (), "Nothing at or above correction.", 0),
        ('broken("x", "advice")', ("--stop-at", "advice"), "1 at or above advice.", 1),
        ('broken("x", "hazard")', ("--stop-at", "hazard"), "1 at or above hazard.", 1),
        ("lost()", (), "Nothing at or above correction.", 0),
        ("lost()", ("--must-show", "own_rule"), "Nothing at or above correction; not shown counts: own_rule.", 1),
        ("lost()", ("--must-show", "all"), "Nothing at or above correction; not shown counts: own_rule.", 1),
    ],
)
def test_the_last_line_says_what_decided(
    tmp_path: Path, answer: str, more: tuple[str, ...], last: str, number: int
) -> None:
    folder = rules(tmp_path, answer)
    lost = '\nfrom plancheck.rulekit import NotShown\ndef lost():\n    raise NotShown(("water", "static"), "it")\n'
    with (Path(folder) / "own_rule.py").open("a", encoding="utf-8") as file:
        file.write(lost)
    call = ("check", SMALL, "--only", "own_rule", "--rules", folder, *more)
    done = run(*call, COLUMNS="120")
    assert (done.stdout.splitlines()[-1], done.returncode) == (last, number)
    plan = json.loads(run(*call, "--report", "json").stdout)["plans"][0]
    assert plan["decided"] == last[:1].lower() + last[1:-1]


def test_plan_text_never_writes_to_the_terminal(tmp_path: Path) -> None:
    text = (ROOT / SMALL).read_text(encoding="utf-8")
    evil = r'"\e]0;gone\a \e[31m red \u202e \u2028 \x85 [bold]x[/bold]"'
    plan = tmp_path / "evil.plan.yaml"
    plan.write_text(text.replace("title: Test cottage", f"title: {evil}"), encoding="utf-8")
    done = run("check", str(plan))
    for sign in ("\x1b", "\x07", "\u202e", "\u2028", "\x85"):
        assert sign not in done.stdout
    assert "\\x1B" in done.stdout
    assert "[bold]x[/bold]" in done.stdout


def test_a_closed_pipe_is_quiet() -> None:
    if sys.platform == "win32":
        pytest.skip("no /bin/sh here")
    done = subprocess.run(
        ["/bin/sh", "-c", f"{sys.executable} -m plancheck check {SMALL} {SMALL} {SMALL} | head -n 1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.stderr == ""


def test_a_clean_check_imports_nothing_heavy() -> None:
    code = (
        "import sys; from plancheck.cli import run; "
        f"run(['check', {SMALL!r}, '--only', 'test_port']); "
        "print('LOADED', *sorted(set(sys.modules) & {'rich', 'jsonschema', 'numpy', 'dataclasses', 'importlib.metadata'}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.splitlines()[-1] == "LOADED"
