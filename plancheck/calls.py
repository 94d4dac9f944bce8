"""One call of `check`: several plans, one report, the exit number. The highest number wins; every readable plan is told."""

import sys
from collections.abc import Sequence

from plancheck.check import check_file
from plancheck.errors import Problem, Unreadable
from plancheck.loader import LoadedRule, all_rules, built_in_ids
from plancheck.record import NamedTuple
from plancheck.report.assemble import Options
from plancheck.report.data import PlanReport
from plancheck.report.unread import unread_text

NOTHING, FINDINGS, UNREADABLE, FAILED = 0, 1, 2, 3
PIPE_WIDTH = 96


class Call(NamedTuple):
    """The arguments of `check`, as said."""

    plans: tuple[str, ...]
    report: str = "screen"
    out: str | None = None
    only: tuple[str, ...] = ()
    stop_at: str = "correction"
    must_show: tuple[str, ...] = ()
    today: str = ""
    rules: str | None = None
    amend: str | None = None
    waivers: str | None = None
    accepted: str | None = None
    accept: bool = False


class Result(NamedTuple):
    """What came of a call."""

    reports: tuple[PlanReport, ...]
    unread: tuple[Problem, ...]
    more_unread: int
    number: int


def check_plans(call: Call) -> int:
    """Checks the plans, prints or writes the report, gives the exit number. Raises Unreadable for a wrong argument."""
    all_ = all_rules(call.rules, () if _is_local(call) else call.only)
    ids = sorted({*built_in_ids(), *(rule.id for rule in all_)})
    _check_names(call, ids)
    rules = tuple(rule for rule in all_ if not call.only or rule.id in call.only)
    check_day(call.today)
    _check_out(call)
    options = Options(call.stop_at, frozenset(call.must_show), frozenset(ids))
    if _is_local(call):
        from plancheck.localcalls import add_local

        add_local(options, call, all_)
    if call.accept:
        from plancheck.localcalls import accept

        options.accepted = accept(call, rules, options)
    result = run_call(call, rules, options)
    if call.out is not None:
        write_whole(call.out, _text(result, call, PIPE_WIDTH))
    elif call.report == "json":
        sys.stdout.write(_text(result, call, PIPE_WIDTH))
    else:
        _to_screen(result)
    if result.unread:
        sys.stderr.write(unread_text(result.unread, result.more_unread))
    return result.number


def _is_local(call: Call) -> bool:
    """Whether the call has files of its own that speak of any rule."""
    return bool(call.amend or call.waivers or call.accepted or call.accept)


def run_call(call: Call, rules: tuple[LoadedRule, ...], options: Options) -> Result:
    """Checks every plan of the call with the rules."""
    reports: list[PlanReport] = []
    unread: list[Problem] = []
    more, number = 0, NOTHING
    for file in call.plans:
        try:
            report = check_file(file, call.today, rules, options)
        except Unreadable as wrong:
            unread.extend(wrong.problems)
            more += wrong.more
            number = max(number, UNREADABLE)
            continue
        reports.append(report)
        number = max(number, {"nothing found": NOTHING, "findings": FINDINGS, "failed": FAILED}[report.verdict])
    return Result(tuple(reports), tuple(unread), more, number)


def _check_names(call: Call, ids: Sequence[str]) -> None:
    for name in (*call.only, *(name for name in call.must_show if name != "all")):
        if name not in ids:
            raise Unreadable((Problem("the command line", 0, 0, f"there is no rule '{name}'", _near(name, ids)),))


def _near(name: str, ids: Sequence[str]) -> str:
    from plancheck.building.notes import nearest

    return f"{nearest(name, ids)}plancheck rules lists them"


def check_day(today: str) -> None:
    from plancheck.building.values import BadValue, date

    try:
        if not today.isascii() or today[4::3] != "--":
            raise BadValue(((), f"'{today}' is no day of the calendar", "write year-month-day, such as 2026-04-02"))
        date(today)
    except BadValue as wrong:
        _, says, mend = wrong.bad[0]
        raise Unreadable((Problem("--today", 0, 0, says, mend),)) from None


def _check_out(call: Call) -> None:
    """Refuses to write the report over what is read, however either is spelled."""
    read = [(f"the plan {file}", file) for file in call.plans]
    read += [(f"the file {file}", file) for file in (call.amend, call.waivers, call.accepted) if file is not None]
    for name, file in read if call.out is not None else ():
        if is_same(file, str(call.out)):
            says = f"--out {call.out} is {name} itself: the report would take its place"
            raise Unreadable((Problem("the command line", 0, 0, says, "name another file; nothing was written"),))


def is_same(one: str, other: str) -> bool:
    """Whether two names are of one file."""
    import os

    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):  # one of the two is not there, or no name of a file at all
        return os.path.abspath(one) == os.path.abspath(other) if "\0" not in one + other else False


def _text(result: Result, call: Call, width: int) -> str:
    if call.report == "json":
        from plancheck.report.machine import json_report

        return json_report(result.reports, result.unread, result.more_unread)
    from plancheck.report.plain import plain_text

    return "\n\n".join(plain_text(report, width) for report in result.reports)


def _to_screen(result: Result) -> None:
    if not sys.stdout.isatty():
        from plancheck.report.plain import plain_text

        width = _columns()
        sys.stdout.write("\n\n".join(plain_text(report, width) for report in result.reports))
        return
    from rich.console import Console

    from plancheck.report.colour import print_colour

    console = Console(highlight=False, markup=False, emoji=False)
    for number, report in enumerate(result.reports):
        if number:
            console.print("\n")
        print_colour(report, console, min(console.width, 110))


def _columns() -> int:
    import os

    said = os.environ.get("COLUMNS", "")
    return max(40, min(int(said), 200)) if said.isdigit() else PIPE_WIDTH


def write_whole(file: str, text: str, what: str = "the report") -> None:
    """Writes the file whole or not at all: a temporary file beside it, then a rename. Raises Unreadable."""
    import os

    draft = f"{file}.{os.getpid()}.part"
    try:
        with open(draft, "w", encoding="utf-8", newline="\n") as handle:
            handle.write(text)
        os.replace(draft, file)
    except OSError as wrong:
        if os.path.exists(draft):
            os.unlink(draft)
        says = f"{what} cannot be written: {wrong.strerror or wrong}"
        raise Unreadable((Problem(file, 0, 0, says, "name a file in a folder you may write to"),)) from None
