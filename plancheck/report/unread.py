"""Files that could not be read, in words: file, line, column, what was found, how to mend it."""

from __future__ import annotations

from collections.abc import Sequence

from plancheck.errors import Problem
from plancheck.report.layout import clean


def unread_text(problems: Sequence[Problem], more: int) -> str:
    """The problems, file by file, as text for the error stream."""
    lines: list[str] = []
    file = None
    for one in problems:
        if one.file != file:
            file = one.file
            lines.append(f"{clean(file)} could not be {one.wanted}:")
        place = f"line {one.line}, column {one.column}: " if one.column else f"line {one.line}: " if one.line else ""
        lines.append(f"  {place}{clean(one.says)}")
        if one.mend:
            lines.append(f"      {clean(one.mend)}")
    if more:
        lines.append(f"  and {more} more")
    return "\n".join(lines) + "\n"
