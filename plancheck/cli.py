"""Arguments into one call, its result to a renderer, the exit number back."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from typing import Any, NoReturn

from plancheck import __version__
from plancheck.errors import Problem, Unreadable
from plancheck.outcomes import SEVERITIES

NOTHING, FINDINGS, UNREADABLE, FAILED = 0, 1, 2, 3


class _Formatter(argparse.HelpFormatter):
    """Help of a fixed width: asking for the terminal's would import more than a whole check needs."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=88)


class _Parser(argparse.ArgumentParser):
    def __init__(self, **more: Any) -> None:
        super().__init__(**{"formatter_class": _Formatter, **more})

    def error(self, message: str) -> NoReturn:
        sys.stderr.write(f"plancheck: {message}\n{self.format_usage()}")
        raise SystemExit(UNREADABLE)


def run(arguments: Sequence[str]) -> int:
    """Runs one command and gives its exit number."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")  # a terminal that cannot print a sign gets its number
    try:
        options = _parser().parse_args(arguments)
    except SystemExit as stopped:
        return int(stopped.code or 0)
    try:
        return int(options.command(options))
    except Unreadable as wrong:
        _say_unread(wrong.problems, wrong.more)
        return UNREADABLE


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="plancheck",
        description="Checks water-supply plans in PEX tubing before the inspector does.",
        epilog="Exit: 0 nothing at or above the stop level, 1 findings, 2 something could not be read, 3 a failure.",
    )
    parser.add_argument("--version", action="version", version=f"plancheck {__version__}")
    commands = parser.add_subparsers(
        prog="plancheck", dest="name", required=True, metavar="COMMAND", parser_class=_Parser
    )
    _add_check(commands.add_parser("check", help="print the punch list of plans"))
    flow = commands.add_parser("flow", help="print pressures, flows, shower swing and hot wait of plans")
    flow.add_argument("plans", nargs="+", metavar="PLAN", help="a plan file")
    flow.add_argument("--report", choices=("screen", "json"), default="screen", help="how to print it")
    flow.add_argument("--out", metavar="FILE", help="write it to a file, whole or not at all")
    flow.set_defaults(command=_flow)
    _add_gauge(commands.add_parser("gauge", help="compare gauge readings with what a plan predicts"))
    _add_shutoff(
        commands.add_parser("shutoff", help="print what goes dry when a valve closes, and what isolates a place")
    )
    pack = commands.add_parser("pack", help="write the sheets for permit, inspection, first water and owner")
    pack.add_argument("plan", metavar="PLAN", help="a plan file")
    pack.add_argument("--out", metavar="FOLDER", required=True, help="the folder to write them to")
    pack.add_argument("--pdf", action="store_true", help="print them as PDF too, by a Chromium on this machine")
    pack.add_argument("--amend", metavar="FILE", help="limits of the local authority")
    pack.add_argument("--today", metavar="DATE", help="judge as on this day, such as 2026-04-02")
    pack.set_defaults(command=_pack)
    _add_draw(commands.add_parser("draw", help="draw a plan as SVG"))
    _add_grade(commands.add_parser("grade", help="mark apprentices' plans by a rubric"))
    why = commands.add_parser("why", help="print a rule's words, limits and sources")
    why.add_argument("rule", metavar="RULE")
    why.add_argument("--rules", metavar="DIR", help="a folder with more rules")
    why.add_argument("--amend", metavar="FILE", help="limits of the local authority")
    why.set_defaults(command=_why)
    rules = commands.add_parser("rules", help="list the rules and the code editions carried")
    rules.add_argument("--rules", metavar="DIR", help="a folder with more rules")
    rules.set_defaults(command=_rules)
    return parser


def _add_check(check: argparse.ArgumentParser) -> None:
    check.add_argument("plans", nargs="+", metavar="PLAN", help="a plan file (NAME.plan.yaml), or a folder of them")
    check.add_argument(
        "--report", metavar="FORMAT[=FILE]", action="append", default=[],
        help="screen, json, sarif, junit, csv or html, printed or to a file (repeatable)",
    )  # fmt: skip
    check.add_argument("--out", metavar="FILE", help="write the one report to a file, whole or not at all")
    check.add_argument("--jobs", metavar="N", type=_number, default=1, help="check N plans at a time")
    check.add_argument("--only", metavar="RULE", action="append", default=[], help="run this rule alone (repeatable)")
    check.add_argument("--stop-at", choices=SEVERITIES, default="correction", help="severity that makes the exit 1")
    check.add_argument(
        "--must-show", metavar="RULE", action="append", default=[], help="not shown counts here (a rule, or all)"
    )
    check.add_argument("--today", metavar="DATE", help="judge as on this day, such as 2026-04-02")
    check.add_argument("--rules", metavar="DIR", help="a folder with more rules")
    check.add_argument("--amend", metavar="FILE", help="limits of the local authority")
    check.add_argument("--waivers", metavar="FILE", help="accepted findings with reason, name and last day")
    check.add_argument("--accepted", metavar="FILE", help="findings of old plans that are told no more")
    check.add_argument("--accept", action="store_true", help="record today's findings in the file of --accepted")
    check.set_defaults(command=_check)


def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 0 < int(text[:9]) < 1000):
        raise argparse.ArgumentTypeError(f"'{text}' is no number from 1 to 999")
    return int(text)


def _add_gauge(gauge: argparse.ArgumentParser) -> None:
    gauge.add_argument("plan", metavar="PLAN", help="a plan file; without --reads its own readings are looked at")
    gauge.add_argument("--reads", metavar="P", help="what the gauge reads, such as '52 psi'")
    gauge.add_argument("--at", metavar="CONNECTION", help="where it is put on; left out: the test port")
    gauge.add_argument("--open", dest="open_", metavar="FIXTURES", help="fixtures that run, with commas")
    gauge.add_argument("--before", metavar="T", help="air temperature at the start of a pressure test")
    gauge.add_argument("--after", metavar="T", help="and at its end")
    gauge.add_argument("--out", metavar="FILE", help="write it to a file, whole or not at all")
    gauge.set_defaults(command=_gauge)


def _add_shutoff(shutoff: argparse.ArgumentParser) -> None:
    shutoff.add_argument("plan", metavar="PLAN", help="a plan file; without more all its valves and outlets are listed")
    shutoff.add_argument("valves", nargs="*", metavar="VALVE", help="close it, such as cold-ring/A (several: together)")
    shutoff.add_argument("--place", metavar="PLACE", help="the fewest valves that isolate a place")
    shutoff.add_argument("--fixture", metavar="FIXTURE", help="the fewest valves that isolate a fixture or heater")
    shutoff.add_argument("--report", choices=("screen", "json"), default="screen", help="how to print it")
    shutoff.add_argument("--out", metavar="FILE", help="write it to a file, whole or not at all")
    shutoff.set_defaults(command=_shutoff)


def _add_draw(draw: argparse.ArgumentParser) -> None:
    kinds = ("isometric", "riser", "manifolds", "labels", "shutoff", "pressure", "showers", "all")
    draw.add_argument("plan", metavar="PLAN", help="a plan file")
    draw.add_argument("--as", dest="kind", choices=kinds, help="what to draw; left out: the isometric, or the riser where paths are missing")
    draw.add_argument("--out", metavar="PATH", help="a file for one drawing, a folder for several")
    draw.add_argument("--bare", action="store_true", help="without the marks of findings")
    draw.add_argument("--amend", metavar="FILE", help="limits of the local authority, by which the marks are numbered")
    draw.add_argument("--today", metavar="DATE", help="judge as on this day, such as 2026-04-02")
    draw.set_defaults(command=_draw)


def _add_grade(grade: argparse.ArgumentParser) -> None:
    grade.add_argument("rubric", metavar="RUBRIC", help="the marking scheme")
    grade.add_argument("plans", nargs="+", metavar="PLAN", help="plan files, or folders with plans")
    grade.add_argument("--marks", metavar="FILE", help="what persons judged, and overrides with reason and second marker")
    grade.add_argument("--roster", metavar="FILE", help="CSV with the columns file,candidate: pseudonyms")
    grade.add_argument("--before", metavar="FILE", help="the JSON of an earlier result: what was mended since, what is new")
    grade.add_argument("--pages", metavar="FOLDER", help="write a feedback page for each candidate and a page of the class")
    grade.add_argument("--report", choices=("screen", "json", "csv"), default="screen", help="how to print the result")
    grade.add_argument("--out", metavar="FILE", help="write the result to a file, whole or not at all")
    grade.add_argument("--amend", metavar="FILE", help="limits of the local authority")
    grade.add_argument("--today", metavar="DATE", help="judge as on this day, such as 2026-04-02")
    grade.set_defaults(command=_grade)


def _check(options: argparse.Namespace) -> int:
    from plancheck.calls import Call, check_plans

    today = options.today or time.strftime("%Y-%m-%d")
    call = Call(
        tuple(options.plans), tuple(options.report), options.out, tuple(options.only), options.stop_at,
        tuple(options.must_show), today, options.rules, options.amend, options.waivers, options.accepted, options.accept,
        options.jobs,
    )  # fmt: skip
    return check_plans(call)


def _flow(options: argparse.Namespace) -> int:
    from plancheck.flowcalls import print_flow

    return print_flow(options.plans, options.report, options.out, time.strftime("%Y-%m-%d"))


def _gauge(options: argparse.Namespace) -> int:
    from plancheck.gaugecalls import Call, print_gauge

    said = (options.plan, options.reads, options.at, options.open_, options.before, options.after, options.out)
    return print_gauge(Call(*said, time.strftime("%Y-%m-%d")))


def _shutoff(options: argparse.Namespace) -> int:
    from plancheck.shutoffcalls import Call, print_shutoff

    said = (options.plan, tuple(options.valves), options.place, options.fixture, options.report, options.out)
    return print_shutoff(Call(*said, time.strftime("%Y-%m-%d")))


def _pack(options: argparse.Namespace) -> int:
    from plancheck.packcalls import Call, make_pack

    today = options.today or time.strftime("%Y-%m-%d")
    return make_pack(Call(options.plan, options.out, options.pdf, options.amend, today))


def _draw(options: argparse.Namespace) -> int:
    from plancheck.drawcalls import Call, draw

    today = options.today or time.strftime("%Y-%m-%d")
    return draw(Call(options.plan, options.kind, options.out, not options.bare, today, options.amend))


def _grade(options: argparse.Namespace) -> int:
    from plancheck.gradecalls import Call, grade

    o = options
    today = o.today or time.strftime("%Y-%m-%d")
    return grade(Call(o.rubric, tuple(o.plans), o.marks, o.roster, o.before, o.pages, o.report, o.out, o.amend, today))


def _why(options: argparse.Namespace) -> int:
    from plancheck.manual import print_why

    return print_why(options.rule, options.rules, options.amend)


def _rules(options: argparse.Namespace) -> int:
    from plancheck.manual import print_rules

    return print_rules(options.rules)


def _say_unread(problems: Sequence[Problem], more: int) -> None:
    from plancheck.report.unread import unread_text

    sys.stderr.write(unread_text(problems, more))
