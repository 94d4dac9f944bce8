"""The screen on a real terminal: colour, width, and none of it where it is not wanted."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
pty = pytest.importorskip("pty", reason="this system has no pseudo-terminals")
ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


COLOURED = {str(number) for first in (30, 40, 90, 100) for number in range(first, first + 10)}
COMMANDS = ("check", "flow", "shutoff", "gauge")


def colours_in(text: str) -> set[str]:
    """The codes of a text that set a colour (ECMA-48, 8.3.117: 30 to 49; 90 to 109 by custom)."""
    return {code for codes in re.findall(r"\x1b\[([0-9;]*)m", text) for code in codes.split(";")} & COLOURED


def on_a_terminal(command: str = "check", **environment: str) -> tuple[str, int]:
    """What a command writes to a terminal, and its exit number."""
    ours, theirs = pty.openpty()
    words = [sys.executable, "-m", "plancheck", command, "sample_plans/boathouse-mistakes.plan.yaml"]
    clean = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "FORCE_COLOR")}
    with subprocess.Popen(words, cwd=ROOT, stdout=theirs, env={**clean, **environment}) as process:
        os.close(theirs)
        pieces = []
        while True:
            try:
                piece = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not piece:
                break
            pieces.append(piece)
        number = process.wait(timeout=60)
    os.close(ours)
    return b"".join(pieces).decode(), number


@pytest.mark.parametrize("width", [60, 100])
def test_colour_and_width(width: int) -> None:
    text, number = on_a_terminal(TERM="xterm-256color", COLUMNS=str(width), LINES="40", NO_COLOR="")
    assert number == 1
    assert ESCAPE.search(text)
    assert max(len(ESCAPE.sub("", line)) for line in text.splitlines()) <= width
    assert "HAZARD" in text


def test_the_same_words_as_without_a_terminal() -> None:
    text, _ = on_a_terminal(TERM="xterm-256color", COLUMNS="90", LINES="40")
    plain = subprocess.run(
        [sys.executable, "-m", "plancheck", "check", "sample_plans/boathouse-mistakes.plan.yaml"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env={**os.environ, "COLUMNS": "90"},
        check=False,
    ).stdout
    assert [line.rstrip() for line in ESCAPE.sub("", text).splitlines()] == plain.splitlines()


def test_no_color_takes_the_colour_and_leaves_bold() -> None:
    """no-color.org (from memory): present and not empty, it prevents colour; bold and the like are not its matter."""
    said = {"TERM": "xterm-256color", "COLUMNS": "90", "LINES": "40"}
    coloured, _ = on_a_terminal(**said)
    assert colours_in(coloured)
    for value in ("1", "0", "no"):
        text, number = on_a_terminal(**said, NO_COLOR=value)
        assert number == 1
        assert colours_in(text) == set()
        assert "\x1b[1m" in text
        assert ESCAPE.sub("", text) == ESCAPE.sub("", coloured)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_dumb_terminal_gets_no_escapes(command: str) -> None:
    text, number = on_a_terminal(command, TERM="dumb")
    assert number == (1 if command == "check" else 0)
    assert len(text) > 100
    assert "\x1b" not in text


@pytest.mark.parametrize("command", COMMANDS)
def test_a_pipe_gets_no_escapes_even_where_colour_is_asked_for(command: str) -> None:
    wanted = {**os.environ, "TERM": "xterm-256color", "FORCE_COLOR": "1"}
    words = [sys.executable, "-m", "plancheck", command, "sample_plans/boathouse-mistakes.plan.yaml"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, env=wanted, check=False)
    assert len(done.stdout) > 100
    assert "\x1b" not in done.stdout
