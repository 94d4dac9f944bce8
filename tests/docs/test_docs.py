"""What the documents say is there is there."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "plancheck", "rules", "schemas", "tests", "sample_plans"}


@pytest.mark.parametrize("document", ["DEVELOPERS.md", "README.md"])
def test_every_path_named_exists(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    named = re.findall(r"`((?:plancheck|rules|schemas|tests|sample_plans)/[\w./-]*)`", text)
    assert named
    missing = [path for path in named if "NAME" not in path and not (ROOT / path).exists()]
    assert missing == []


def test_nothing_else_lies_at_the_top() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout
    names = {line.split("/")[0] for line in listed.splitlines()} or {path.name for path in ROOT.iterdir()}
    assert {name for name in names if not name.startswith(".")} <= TOP


def test_the_words_table_has_every_outcome_and_severity() -> None:
    from plancheck.outcomes import OUTCOMES, SEVERITIES

    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for word in (*OUTCOMES, *SEVERITIES):
        assert word in text


def test_imports_go_one_way() -> None:
    """Earlier stages import no later one; rules import the rulekit only (held by the loader's tests)."""
    later = {
        "measures": ("model", "building", "network", "geometry", "facts", "engine", "report", "calls", "cli"),
        "model": ("building", "network", "geometry", "facts", "engine", "report", "calls", "cli"),
        "building": ("network", "geometry", "facts", "engine", "report", "calls", "cli"),
        "network": ("geometry", "facts", "engine", "report", "calls", "cli"),
        "geometry": ("facts", "engine", "report", "calls", "cli"),
        "report": ("calls", "cli"),
    }
    wrong = []
    for package, forbidden in later.items():
        for file in sorted((ROOT / "plancheck" / package).glob("*.py")):
            for name in re.findall(
                r"^\s*(?:from|import) plancheck\.(\w+)", file.read_text(encoding="utf-8"), re.MULTILINE
            ):
                if name in forbidden:
                    wrong.append(f"{file.name} imports {name}")
    assert wrong == []
