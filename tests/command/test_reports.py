"""Several reports of one run: which, where to, and that none changes what is decided."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.report.making import FORMATS, SMALL, TODAY, command, rules

PLAN = str(SMALL)


def call(folder: Path, answer: str, *more: str) -> tuple[str, ...]:
    return ("check", PLAN, *rules(folder, answer), *TODAY, *more)


@pytest.mark.parametrize("format_", FORMATS)
@pytest.mark.parametrize(
    ("answer", "more", "number"),
    [
        ("holds()", (), 0),
        ("broken('x', 'advice')", (), 0),
        ("broken('x', 'correction')", (), 1),
        ("lost()", ("--must-show", "all"), 1),
        ("broken('x', 'correction')", ("bad.plan.yaml",), 2),
        ("1 / 0", ("bad.plan.yaml",), 3),
    ],
)
def test_no_format_changes_the_exit_number(
    tmp_path: Path, run: Run, format_: str, answer: str, more: tuple[str, ...], number: int
) -> None:
    (tmp_path / "bad.plan.yaml").write_text("a: yes\n", encoding="utf-8")
    plans = [PLAN, *(str(tmp_path / one) for one in more if one.endswith("yaml"))]
    asked = ("check", *plans, *rules(tmp_path, answer), *TODAY, *(one for one in more if one.startswith("--")))
    asked += ("all",) * ("--must-show" in more)
    printed = run(*asked, "--report", format_)
    assert printed.number == number
    assert printed.out
    assert run(*asked, "--report", f"{format_}={tmp_path / 'made'}").number == number


def test_all_formats_of_one_run_are_those_of_single_runs(tmp_path: Path, run: Run) -> None:
    asked = [one for name in FORMATS[1:] for one in ("--report", f"{name}={tmp_path / name}")]
    screen = run(*call(tmp_path, "broken('x', 'hazard')", "--report", "screen", *asked))
    assert screen.number == 1
    assert screen.out == run(*call(tmp_path, "broken('x', 'hazard')")).out
    for name in FORMATS[1:]:
        alone = run(*call(tmp_path, "broken('x', 'hazard')", "--report", name))
        assert alone.out == (tmp_path / name).read_text("utf-8")
    run(*call(tmp_path, "broken('x', 'hazard')", "--report", f"screen={tmp_path / 'screen'}"))
    assert (tmp_path / "screen").read_text("utf-8") == screen.out


def test_out_is_for_one_report(tmp_path: Path, run: Run) -> None:
    done = run(*call(tmp_path, "holds()", "--report", "sarif", "--out", str(tmp_path / "made")))
    assert (done.number, done.out) == (0, "")
    assert json.loads((tmp_path / "made").read_text("utf-8"))["version"] == "2.1.0"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--report", "xml"), "there is no report 'xml'"),
        (("--report", "jsn"), "did you mean json?"),
        (("--report", "sarif="), "names no file"),
        (("--report", "=made"), "there is no report ''"),
        (("--report", "json", "--report", "csv"), "json and csv would both be printed"),
        (("--report", "json", "--report", "json"), "json and json would both be printed"),
        (("--report", "json=made", "--report", "csv=sub/../made"), "is the file made itself"),
        (("--report", "json=made", "--out", "other"), "both name a file"),
        (("--report", "json", "--report", "csv=made", "--out", "other"), "--out is for one report"),
        (("--report", "json=den.plan.yaml"), "is the plan den.plan.yaml itself"),
        (("--report", "json=own.yaml", "--waivers", "own.yaml"), "is the file own.yaml itself"),
        (("--report", "json=sub"), "there is a folder of that name"),
        (("--report", "json=none/made"), "there is no folder none"),
        (("--report", "json=den.plan.yaml/made"), "den.plan.yaml is a file"),
        (("--jobs", "0"), "no number from 1 to 999"),
        (("--jobs", "two"), "no number from 1 to 999"),
    ],
)
def test_wrong_arguments_are_told_before_anything_is_checked(
    tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], words: str
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("plancheck.calls.check_file", None)  # to call it would fail
    (tmp_path / "den.plan.yaml").write_bytes(SMALL.read_bytes())
    (tmp_path / "own.yaml").write_text("plancheck: 1\nwaivers: []\n", encoding="utf-8")
    (tmp_path / "sub").mkdir()
    before = sorted(tmp_path.rglob("*"))
    done = run("check", "den.plan.yaml", *arguments)
    assert (done.number, done.out) == (2, "")
    assert words in done.err
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("format_", FORMATS)
def test_the_same_bytes_twice(tmp_path: Path, run: Run, format_: str) -> None:
    texts = [run("check", PLAN, *TODAY, "--report", format_).out for _ in range(2)]
    assert texts[0] == texts[1] != ""


def test_a_plain_check_loads_no_renderer() -> None:
    before = "import atexit; atexit.register(lambda: print('LOADED', *sorted(m for m in sys.modules if m in WATCHED)));"
    watched = [f"plancheck.{name}" for name in ("outputs", "writing", "walking", "many", "progress", "report.formats")]
    done = command("check", PLAN, "--only", "test_port", before=f"WATCHED = {[*watched, 'xml.etree', 'csv']};{before}")
    assert done.stdout.splitlines()[-1] == "LOADED"


class Run:
    """Runs plancheck in this process; out and err are what it printed, number its exit number."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys
        self.number, self.out, self.err = 0, "", ""

    def __call__(self, *arguments: str) -> Run:
        from plancheck.cli import run

        self._capsys.readouterr()
        done = Run(self._capsys)
        done.number = run(arguments)
        done.out, done.err = self._capsys.readouterr()
        return done


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    return Run(capsys)
