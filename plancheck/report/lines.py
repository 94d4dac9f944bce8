"""Lines of text for a console: each with its style, and how far its further lines hang in."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import TYPE_CHECKING

from plancheck.report.layout import clean

if TYPE_CHECKING:
    from rich.console import Console

Line = tuple[str, str, int]  # text, style, how far its further lines hang in
HEAD, STATION, PLAIN = "bold", "bold underline", ""


def print_lines(lines: Iterable[Line], console: Console) -> None:
    """Prints lines to a rich console, wrapped to its width."""
    from rich.text import Text

    for text, style, hang in lines:
        indent = len(text) - len(text.lstrip())
        wrapped = textwrap.wrap(
            clean(text.lstrip()),
            console.width,
            initial_indent=" " * indent,
            subsequent_indent=" " * (indent + hang),
            break_on_hyphens=False,
        )
        for line in wrapped or [""]:
            console.print(Text(line, style=style))
