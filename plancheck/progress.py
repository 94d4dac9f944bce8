"""How far a long run has come, on the error stream of a terminal. A short run shows nothing and loads nothing."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from rich.progress import Progress, TaskID

PATIENCE_S = 1.0
Thing = TypeVar("Thing")


def metered(things: Iterator[Thing], total: int) -> Iterator[Thing]:
    """The things as they come, counted on the error stream."""
    meter = _Meter(total)
    try:
        for thing in things:
            yield thing
            meter.step()
    finally:
        meter.close()


class _Meter:
    """Counts plans done; after PATIENCE_S it shows itself."""

    def __init__(self, total: int) -> None:
        self._total = total
        self._done = 0
        self._begun = time.monotonic()
        self._bar: Progress | None = None
        self._task: TaskID | None = None

    def step(self) -> None:
        """One plan is done."""
        self._done += 1
        if self._bar is None and time.monotonic() - self._begun > PATIENCE_S:
            self._show()
        if self._bar is not None and self._task is not None:
            self._bar.update(self._task, completed=self._done)

    def close(self) -> None:
        """Takes it off the screen."""
        if self._bar is not None:
            self._bar.stop()

    def _show(self) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        columns = (TextColumn("plans"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
        console = Console(file=sys.stderr)
        self._bar = Progress(*columns, console=console, transient=True, redirect_stdout=False, redirect_stderr=False)
        self._task = self._bar.add_task("", total=self._total)
        self._bar.start()
