"""The result of grading on a screen: a row for each candidate, then the class. Pipes and files get it plain."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from plancheck.grading.alike import Alike
from plancheck.grading.results import ClassPicture, Graded
from plancheck.grading.rubric import Rubric
from plancheck.report.page import clean

if TYPE_CHECKING:
    from rich.console import Console

_NAMED = 8  # candidates of a group that are called by name


def print_class(console: Console, rubric: Rubric, class_: Sequence[Graded], picture: ClassPicture) -> None:
    """Prints the table of the class and its picture."""
    _say(console, rubric.title, "bold")
    _table(console, rubric, class_)
    for one in class_:
        for fault in one.critical:
            what = f"at most {fault.cap:g} marks, {one.before_cap:g} without" if fault.cap is not None else f"no marks for {fault.fails}"
            _say(console, f"{one.candidate}: critical: {fault.title} ({what}), finding {', '.join(map(str, fault.numbers))}", "hazard")
        for why in one.unread:
            _say(console, f"{one.candidate}: cannot be read: {why}")
        if one.mended or one.new:
            _say(console, f"{one.candidate}: since last time {len(one.mended)} mended, {len(one.new)} new, {one.still} still there")
    _class(console, picture)


def _say(console: Console, text: str, mark: str = "") -> None:
    from rich.text import Text

    style = {"bold": "bold", "hazard": "bold red"}.get(mark, "")
    console.print(Text(clean(text), style=style), soft_wrap=False)


def _table(console: Console, rubric: Rubric, class_: Sequence[Graded]) -> None:
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, show_edge=False)
    table.add_column("candidate", no_wrap=True)
    table.add_column("total", justify="right")
    for section in rubric.sections:
        table.add_column(Text(f"{clean(section.id)}\nof {section.weight:g}"), justify="right", overflow="fold")
    table.add_column("", no_wrap=True)
    for one in class_:
        marks = {section.id: f"{section.mark:.1f}" for section in one.sections}
        cells = [marks.get(section.id, "-") for section in rubric.sections]
        table.add_row(Text(clean(one.candidate)), f"{one.total:g}", *cells, Text(_remark(one)))
    console.print(table)


def _remark(one: Graded) -> str:
    bits = []
    if one.unread:
        bits.append("not read")
    if one.critical:
        bits.append("critical")
    if one.to_judge:
        bits.append(f"{one.to_judge} to judge")
    if one.reached is not None:
        bits.append("reached" if one.reached else "not reached")
    return ", ".join(bits)


def _class(console: Console, picture: ClassPicture) -> None:
    console.print()
    _say(console, f"Class of {picture.size}{f', {picture.unread} not read' if picture.unread else ''}", "bold")
    if picture.withheld:
        _say(console, f"Withheld: {picture.withheld}.")
    else:
        _say(console, f"Mean {picture.mean:.1f}, median {picture.median:.1f}, from {picture.lowest:g} to {picture.highest:g}, spread {picture.spread:.1f}.")
        for band, count in picture.bands:
            _say(console, f"  {band:<13} {'#' * count} {count}".rstrip(" 0") if count else f"  {band}")
        hard = ", ".join(f"{one.title} ({one.mean:.0%})" for one in picture.aspects[:5])
        _say(console, f"Hardest: {hard}.")
        if picture.missed:
            _say(console, f"Missed most: {', '.join(f'{rule} ({count})' for rule, count in picture.missed[:5])}.")
    for group in picture.alike:
        _say(console, f"{names_of(group)} share {group.share:.0%} of what they say: for a person to look at, no verdict.")


def names_of(group: Alike) -> str:
    """The candidates of a group in a row."""
    *first, last = group.candidates[:_NAMED]
    more = len(group.candidates) - _NAMED
    return f"{', '.join((*first, last))} and {more} more" if more > 0 else f"{', '.join(first)} and {last}"
