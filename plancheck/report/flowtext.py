"""The answers on flow as text: tables where they fit, one block a row where they do not."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from plancheck.facts import Facts
from plancheck.flow.pages.table import Cell, Page, Table
from plancheck.report.flowcells import heading, text_of
from plancheck.report.layout import clean

if TYPE_CHECKING:
    from rich.console import Console

LEAST_WIDTH = 40


def print_page(page: Page, facts: Facts, console: Console) -> None:
    """Prints a page to a rich console, in colour where that has colour."""
    from rich.text import Text

    console.print(Text(clean(page.title), style="bold"))
    _say(console, f"{page.file}; {page.code}", "dim")
    for table in page.tables:
        console.print()
        console.print(Text(clean(table.title), style="bold underline"))
        for sentence in table.says:
            _say(console, sentence)
        if table.rows:
            _table(table, facts, console)
        for note in table.notes:
            _say(console, note, "dim")
    _list(console, "Taken, because the plan does not say it", page.assumed)
    _list(console, "Not shown: what the plan does not say", [f"{what} ({key})" for what, key in _by_what(page)])
    _list(console, "Not modelled", page.not_modelled)
    _list(console, "Cautions", page.cautions)


def _by_what(page: Page) -> list[tuple[str, str]]:
    return [(what, key.strip("/").replace("/", ".")) for key, what in page.not_shown]


def _say(console: Console, text: str, style: str = "") -> None:
    from rich.text import Text

    console.print(Text(clean(text), style=style), soft_wrap=False)


def _list(console: Console, title: str, entries: list[str] | tuple[str, ...]) -> None:
    from rich.text import Text

    if not entries:
        return
    console.print()
    console.print(Text(title, style="bold underline"))
    for entry in entries:
        for line in textwrap.wrap("- " + clean(entry), console.width, subsequent_indent="  ", break_on_hyphens=False):
            console.print(Text(line))


def _table(table: Table, facts: Facts, console: Console) -> None:
    from rich.table import Table as RichTable

    least = [_least(table, number, facts) for number in range(len(table.columns))]
    if sum(least) + 2 * (len(least) - 1) > console.width:
        for row in table.rows:
            _block(table, row, facts, console)
        return
    drawn = RichTable(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic", show_edge=False)
    for column, width in zip(table.columns, least, strict=True):
        drawn.add_column(
            heading(column, facts), justify="left" if column.kind == "text" else "right", width=width, vertical="bottom"
        )
    for row in table.rows:
        drawn.add_row(*(clean(text_of(cell, column, facts)) for cell, column in zip(row, table.columns, strict=True)))
    console.print(drawn)


def _least(table: Table, number: int, facts: Facts) -> int:
    """The width of a column: its widest cell, or the longest word of its heading."""
    column = table.columns[number]
    cells = max((len(text_of(row[number], column, facts)) for row in table.rows), default=1)
    return max(cells, *(len(word) for word in heading(column, facts).split()))


def _block(table: Table, row: tuple[Cell, ...], facts: Facts, console: Console) -> None:
    from rich.text import Text

    texts = [text_of(cell, column, facts) for cell, column in zip(row, table.columns, strict=True)]
    console.print(Text(clean(texts[0]), style="bold"))
    for column, text in list(zip(table.columns, texts, strict=True))[1:]:
        if text != "-":
            console.print(Text(f"  {heading(column, facts)}: {clean(text)}"))
