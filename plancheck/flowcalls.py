"""One call of `flow` or `gauge`: plans in, answers out, the exit number."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from plancheck.calls import NOTHING, PIPE_WIDTH, UNREADABLE, write_whole
from plancheck.check import facts_of
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.reading import read_plan
from plancheck.report.unread import unread_text

if TYPE_CHECKING:
    from rich.console import Console


def print_flow(plans: Sequence[str], report: str, out: str | None, today: str) -> int:
    """Prints or writes the answers on flow of the plans; every readable plan is told. Raises Unreadable for --out."""
    from plancheck.flow.pages.all import flow_page

    pages = []
    problems: list[Problem] = []
    more = 0
    for file in plans:
        try:
            facts = facts_of(read_plan(file), today)
        except Unreadable as wrong:
            problems.extend(wrong.problems)
            more += wrong.more
            continue
        pages.append((flow_page(facts), facts))
    if report == "json":
        from plancheck.report.flowmachine import flow_json

        put(flow_json(pages), out)
    else:
        from plancheck.report.flowtext import print_page

        def draw(console: Console) -> None:
            for page, facts in pages:
                print_page(page, facts, console)

        show(draw, out)
    if problems:
        sys.stderr.write(unread_text(problems, more))
    return UNREADABLE if problems else NOTHING


def put(text: str, out: str | None) -> None:
    """Writes a text to standard output, or to a file, whole or not at all."""
    if out is None:
        sys.stdout.write(text)
    else:
        write_whole(out, text)


def show(draw: Callable[[Console], object], out: str | None) -> None:
    """Draws to a console: the terminal, a pipe of fixed width, or a file that is written whole."""
    import io
    import os

    from rich.console import Console

    if out is None and sys.stdout.isatty():
        draw(Console(highlight=False, markup=False, emoji=False))
        return
    said = os.environ.get("COLUMNS", "")
    width = max(40, min(int(said), 200)) if said.isdigit() else PIPE_WIDTH
    text = io.StringIO()
    console = Console(file=text, width=width, color_system=None, highlight=False, markup=False, emoji=False)
    draw(console)
    put("\n".join(line.rstrip() for line in text.getvalue().splitlines()) + "\n", out)


def facts_in(file: str, today: str) -> Facts:
    """The facts of the plan in a file. Raises Unreadable."""
    return facts_of(read_plan(file), today)
