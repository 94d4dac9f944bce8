"""The formats of a report by name: what was asked for, and the text of each, its renderer imported only then."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from plancheck.errors import Problem, Unreadable
from plancheck.loader import LoadedRule
from plancheck.record import NamedTuple
from plancheck.report.data import Result

Rules = tuple[LoadedRule, ...]


class Output(NamedTuple):
    """One report to make. file: where to, None for standard output."""

    format: str
    file: str | None


def outputs_of(said: Sequence[str], out: str | None) -> tuple[Output, ...]:
    """What --report (each FORMAT or FORMAT=FILE) and --out ask for. Raises Unreadable where they make no sense."""
    outputs = [_output(text) for text in said or ("screen",)]
    if out is not None:
        if len(outputs) != 1:
            raise _wrong("--out is for one report, and several are asked for", "write --report FORMAT=FILE for each")
        if outputs[0].file is not None:
            raise _wrong(f"--out {out} and --report {said[0]} both name a file", "name one of them")
        outputs = [Output(outputs[0].format, out)]
    streamed = [one.format for one in outputs if one.file is None]
    if len(streamed) > 1:
        says = f"{' and '.join(streamed)} would both be printed, one into the other"
        raise _wrong(says, f"give all but one a file: --report {streamed[1]}=FILE")
    return tuple(outputs)


def _output(text: str) -> Output:
    name, given, file = text.partition("=")
    if name not in RENDERERS:
        from plancheck.building.notes import nearest

        raise _wrong(f"there is no report '{name}'", f"{nearest(name, RENDERERS)}there are {', '.join(RENDERERS)}")
    if given and not file:
        raise _wrong(f"--report {text} names no file", f"write --report {name}=FILE, or {name} alone to print it")
    return Output(name, file if given else None)


def _wrong(says: str, mend: str) -> Unreadable:
    return Unreadable((Problem("the command line", 0, 0, says, mend),))


def text_of(name: str, result: Result, rules: Rules, width: int) -> str:
    """The text of a report in the format of that name. rules: those that ran; width: of the screen report."""
    return RENDERERS[name](result, rules, width)


def _screen(result: Result, rules: Rules, width: int) -> str:
    from plancheck.report.plain import plain_text
    from plancheck.report.summary import summary_text

    texts = [plain_text(report, width) for report in result.reports]
    if len(result.briefs) > 1:
        texts.append(summary_text(result.briefs, width))
    return "\n\n".join(texts)


def _json(result: Result, rules: Rules, width: int) -> str:
    from plancheck.report.machine import json_report

    return json_report(result.reports, result.unread, result.more_unread)


def _sarif(result: Result, rules: Rules, width: int) -> str:
    from plancheck.report.sarif import sarif_report

    return sarif_report(result, rules)


def _junit(result: Result, rules: Rules, width: int) -> str:
    from plancheck.report.junit import junit_report

    return junit_report(result, rules)


def _csv(result: Result, rules: Rules, width: int) -> str:
    from plancheck.report.table import csv_report

    return csv_report(result.reports)


def _html(result: Result, rules: Rules, width: int) -> str:
    from plancheck.pages.htmlreport import html_report

    return html_report(result.reports, result.unread, result.more_unread)


RENDERERS: Mapping[str, Callable[[Result, Rules, int], str]] = {
    "screen": _screen,
    "json": _json,
    "sarif": _sarif,
    "junit": _junit,
    "csv": _csv,
    "html": _html,
}
