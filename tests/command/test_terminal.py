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


def on_a_terminal(**environment: str) -> tuple[str, int]:
    """What `check` writes to a terminal, and its exit number."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "plancheck", "check", "sample_plans/boathouse-mistakes.plan.yaml"]
    with subprocess.Popen(command, cwd=ROOT, stdout=theirs, env={**os.environ, **environment}) as process:
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


def test_a_dumb_terminal_gets_no_escapes() -> None:
    text, number = on_a_terminal(TERM="dumb")
    assert number == 1
    assert "\x1b" not in text
