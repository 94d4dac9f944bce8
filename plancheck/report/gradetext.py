"""The result of grading on a screen: a row for each candidate, then the class. Pipes and files get it plain."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from plancheck.grading.alike import Alike
from plancheck.grading.results import ClassPicture, CriticalMark, Graded
from plancheck.grading.rubric import Rubric
from plancheck.report.page import clean

if TYPE_CHECKING:
    from rich.console import Console

_REMARK = 14  # columns for the remarks, the least
_NAMED = 8  # candidates of a group that are called by name


def print_class(console: Console, rubric: Rubric, class_: Sequence[Graded], picture: ClassPicture) -> None:
    """Prints the table of the class and its picture."""
    _say(console, rubric.title, "bold")
    _table(console, rubric, class_)
    for one in class_:
        for fault in one.critical:
            what = f"at most {fault.cap:g} marks, {fault.without:g} without it" if fault.cap is not None else f"no marks for {fault.fails}"
            what = f"lifted: {fault.lifted}" if fault.lifted else what
            _say(console, f"{one.candidate}: critical: {fault.title} ({what}), {_seen_in(fault)}", "hazard")
        for why in one.unread:
            _say(console, f"{one.candidate}: cannot be read: {why}")
        if one.total_before is not None:
            unsaid = f"{len(one.unsaid)} not said any more, " if one.unsaid else ""
            _say(console, f"{one.candidate}: since last time {one.total_before:g} to {one.total:g} marks, {len(one.mended)} mended, {unsaid}{len(one.new)} new, {one.still} still there")
    _class(console, picture)


def _seen_in(fault: CriticalMark) -> str:
    """Which findings make a critical fault, or what there is too little of."""
    told = fault.says[len(fault.numbers) :]
    bits = [f"finding {', '.join(map(str, fault.numbers))}"] if fault.numbers else []
    return "; ".join((*bits, *(says[:1].lower() + says[1:].rstrip(".") for says in told)))


def _say(console: Console, text: str, mark: str = "") -> None:
    from rich.text import Text

    style = {"bold": "bold", "hazard": "bold red"}.get(mark, "")
    console.print(Text(clean(text), style=style), soft_wrap=False)


def _table(console: Console, rubric: Rubric, class_: Sequence[Graded]) -> None:
    from rich.table import Table
    from rich.text import Text

    name = max(len("candidate"), *(len(one.candidate) for one in class_)) if class_ else 0
    headings = _headings(rubric, console.width - name - 7 - _REMARK)
    table = Table(box=None, pad_edge=False, show_edge=False)
    table.add_column("candidate", overflow="fold", min_width=min(name, console.width // 2))
    table.add_column("total", justify="right", no_wrap=True, min_width=5)
    for heading in headings:
        table.add_column(Text(heading), justify="right", no_wrap=True, min_width=4)
    table.add_column("")
    for one in class_:
        marks = {section.id: f"{section.mark:.1f}" for section in one.sections}
        cells = [marks.get(section.id, "-") for section in rubric.sections] if headings else []
        table.add_row(Text(clean(one.candidate)), f"{one.total:g}", *cells, Text(_remark(one)))
    console.print(table)
    if not headings:
        _say(console, "The marks of the sections need a wider screen; --report json and csv have them.")
    elif headings[0] == "1":
        _say(console, "; ".join(f"{place} {section.title}, of {section.weight:g}" for place, section in enumerate(rubric.sections, 1)))


def _headings(rubric: Rubric, room: int) -> list[str]:
    """Headings of the sections for so many columns: their names, else numbers, else none."""
    words = [f"{clean(section.id)}\nof {section.weight:g}" for section in rubric.sections]
    if sum(2 + max(map(len, heading.split("\n"))) for heading in words) <= room:
        return words
    return [str(place) for place in range(1, len(words) + 1)] if 6 * len(words) <= room else []


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
            _say(console, f"  {band:<13} {'#' * count} {count}" if count else f"  {band}")
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
