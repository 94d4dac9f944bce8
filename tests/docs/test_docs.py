"""What the documents say is there is there."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from plancheck.loader import built_in_ids
from tests.docs.shown import block_of, printed, shortened

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


README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_punch_list_shown_is_what_is_printed() -> None:
    """Where it is not: python -m tests.docs.shown writes it anew."""
    assert block_of(README) == shortened(printed(README))


def test_every_sample_is_named() -> None:
    missing = [path.name for path in (ROOT / "sample_plans").iterdir() if f"sample_plans/{path.name}" not in README]
    assert missing == []


def test_every_command_and_every_option_of_check_is_named() -> None:
    commands, options = said_by_help()
    assert [command for command in commands if f"plancheck {command} " not in README] == []
    assert [option for option in options if f"`{option}" not in README] == []


def said_by_help() -> tuple[list[str], list[str]]:
    """The commands, and the options of `check`, as the help prints them."""
    words = [sys.executable, "-m", "plancheck"]
    helps = [
        subprocess.run([*words, *more, "--help"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
        for more in ((), ("check",))
    ]
    commands = re.findall(r"^    ([a-z]+) {2,}", helps[0], re.MULTILINE)
    options = re.findall(r"^  (--[a-z-]+)", helps[1], re.MULTILINE)
    assert "check" in commands
    assert "--report" in options
    return commands, options


def test_every_variable_of_the_environment_is_named() -> None:
    """Those the code reads, and those of colour and terminal that rich reads for it."""
    files = (ROOT / "plancheck").rglob("*.py")
    text = "\n".join(file.read_text(encoding="utf-8") for file in files)
    read = set(re.findall(r'environ\.get\("(\w+)"', text)) | set(re.findall(r'^VARIABLE = "(\w+)"', text, re.MULTILINE))
    assert "COLUMNS" in read
    assert [name for name in sorted({*read, "NO_COLOR", "TERM"}) if f"`{name}" not in README] == []


@pytest.mark.parametrize("document", ["DEVELOPERS.md", "README.md"])
def test_a_number_of_rules_is_the_number_there_is(document: str) -> None:
    """It need not be said; where it is, it is counted."""
    said = re.findall(r"\b(\d+) rules\b", (ROOT / document).read_text(encoding="utf-8"))
    assert [number for number in said if int(number) != len(built_in_ids())] == []
