"""The block of a punch list that the README shows: what its own command prints, shortened at dots, and nothing else.

`python -m tests.docs.shown` writes it anew.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
MARK = "<!-- shown -->\n"
_FINDING = re.compile(r" +\d+\. [A-Z]+  ")
_ROWS = 6


def block_of(readme: str) -> str:
    """The block as the README has it."""
    return readme.split(f"{MARK}```\n")[1].split("```", maxsplit=1)[0]


def printed(readme: str) -> str:
    """What the README's command prints, on the day that its block names, at the width of a pipe."""
    plan = re.search(r"plancheck check (\S+\.plan\.yaml) \|\|", readme)
    day = re.search(r"judged on (\S+)", block_of(readme))
    assert plan and day
    words = [sys.executable, "-m", "plancheck", "check", plan[1], "--today", day[1]]
    clean = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
    done = subprocess.run(words, cwd=ROOT, env=clean, capture_output=True, text=True, check=False)
    assert done.returncode == 1, done.stderr
    return done.stdout


def shortened(output: str) -> str:
    """The head, the first finding, the first hazard, one line for the site, the first rows of the tally, and the end."""
    lines = output.splitlines()
    starts = [number for number, line in enumerate(lines) if _FINDING.match(line)]
    hazard = next(number for number in starts if "HAZARD" in lines[number])
    site = next(number for number, line in enumerate(lines) if line.startswith("Only a person"))
    tally = lines.index("Tally")
    shown = [*lines[:3], *_finding(lines, starts[0]), *_finding(lines, hazard)]
    shown += [lines[site], lines[site + 1], *_rest(lines, site + 2), "...", ""]
    shown += [*lines[tally : tally + 1 + _ROWS], "...", *lines[-2:]]
    return "\n".join(shown) + "\n"


def _finding(lines: list[str], start: int) -> list[str]:
    """A finding under the heading of its station, with dots for what stands there beside it."""
    head = next(number for number in range(start, -1, -1) if lines[number] and not lines[number].startswith(" "))
    end = lines.index("", start)
    dots = ["  ..."] if start > head + 1 else []
    return [lines[head], *dots, *lines[start:end], "  ...", ""]


def _rest(lines: list[str], number: int) -> list[str]:
    """The further lines of the entry that begins on the line before."""
    found = []
    while lines[number].startswith("    "):
        found.append(lines[number])
        number += 1
    return found


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    README.write_text(text.replace(block_of(text), shortened(printed(text))), encoding="utf-8")
