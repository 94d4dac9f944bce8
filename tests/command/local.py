"""What the tests of local files share: the command run in this process, a plan with a few findings, its report."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from plancheck.cli import run

ROOT = Path(__file__).parents[2]
SMALL = (ROOT / "tests" / "cases" / "base" / "small.plan.yaml").read_text(encoding="utf-8")
TODAY = ("--today", "2026-05-05")
FEW = ("--only", "bend_radius", "--only", "support_spacing", "--only", "static_pressure", "--only", "heat_standoff")
SCHEMA = json.loads((ROOT / "schemas" / "report.schema.json").read_text(encoding="utf-8"))


class Command:
    """Runs plancheck on files of one folder; out and err are what it printed, number its exit number."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self._capsys = capsys
        self.number, self.out, self.err = 0, "", ""

    def write(self, name: str, text: str) -> str:
        """Writes a file of the folder and gives its path."""
        (self.folder / name).write_text(text, encoding="utf-8")
        return str(self.folder / name)

    def plan(self, name: str = "den.plan.yaml", *changes: tuple[str, str], more: str = "") -> str:
        """Writes the small plan, each change made once, more put behind it."""
        text = SMALL
        for old, new in changes:
            assert old in text
            text = text.replace(old, new, 1)
        return self.write(name, f"{text.rstrip()}\n{more}")

    def __call__(self, *arguments: str) -> Command:
        self._capsys.readouterr()
        self.number = run(arguments)
        self.out, self.err = self._capsys.readouterr()
        assert "Traceback" not in self.err
        return self

    def reports(self, *arguments: str) -> list[dict[str, Any]]:
        """The plans of the JSON report of `check`, which follows its schema and whose tally adds up."""
        data = json.loads(self("check", *arguments, *TODAY, *FEW, "--report", "json").out)
        jsonschema.validate(data, SCHEMA, jsonschema.Draft202012Validator)
        for plan in data["plans"]:
            lists = ("findings", "waived", "accepted", "not_shown", "on_site", "later", "crashed")
            judged = sum(sum(counts.values()) for counts in plan["tally"].values())
            assert judged == sum(len(plan[name]) for name in lists) + plan["counts"]["holds"]
        plans: list[dict[str, Any]] = data["plans"]
        return plans


@pytest.fixture
def command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Command:
    return Command(tmp_path, capsys)


STRONG = ("static: 62 psi", "static: 95 psi")
BURSTING = ("static: 62 psi", "static: 160 psi")
FREE = ("supports: {kind: plastic clip, every: 30 in, risers", "supports: {kind: plastic clip, every: 60 in, risers")


def findings(plan: dict[str, Any]) -> list[tuple[str, str]]:
    """Rule and severity of each finding."""
    return [(one["rule"], one["severity"]) for one in plan["findings"]]
