"""The screen report in colour on a terminal, through rich. Marks of the layout become styles, never markup."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from plancheck.report.data import PlanReport
from plancheck.report.layout import Line, lay_out

if TYPE_CHECKING:
    from rich.console import Console

STYLES = {
    "plain": "",
    "title": "bold",
    "station": "bold underline",
    "hazard": "bold white on red",
    "correction": "bold black on yellow",
    "advice": "bold cyan",
    "label": "italic",
    "place": "dim",
    "dim": "dim",
}


def print_colour(report: PlanReport, console: Console, width: int) -> None:
    """Prints one plan's report to the rich console."""
    print_lines(lay_out(report, width), console)


def print_lines(lines: Iterable[Line], console: Console) -> None:
    """Prints lines of marked text to the rich console."""
    from rich.text import Text

    for line in lines:
        text = Text(no_wrap=True, overflow="ignore")
        for span in line:
            text.append(span.text, STYLES[span.mark])
        console.print(text, soft_wrap=True, highlight=False)
