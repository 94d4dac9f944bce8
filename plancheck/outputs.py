"""The reports of a call that are more than a screen: which files they may not take, and how they are written."""

from __future__ import annotations

import sys

from plancheck.calls import NOTHING, ON_SCREEN, PIPE_WIDTH, UNREADABLE, Call, Outputs, is_same
from plancheck.errors import Problem, Unreadable
from plancheck.loader import LoadedRule
from plancheck.report.data import Result
from plancheck.report.formats import text_of
from plancheck.report.unread import unread_text
from plancheck.writing import check_targets, write_all


def check_outputs(call: Call, outputs: Outputs) -> None:
    """Refuses to write a report over what is read or over another, however they are spelled, or where no file can be."""
    files = [file for _, file in outputs if file is not None]
    read = [(f"the plan {file}", file) for file in call.plans]
    read += [(f"the file {file}", file) for file in (call.amend, call.waivers, call.accepted) if file is not None]
    for number, target in enumerate(files):
        for name, file in (*read, *((f"the file {other}", other) for other in files[:number])):
            if is_same(file, target):
                said = f"--out {target}" if call.out is not None else f"--report {outputs[number][0]}={target}"
                says = f"{said} is {name} itself: the report would take its place"
                raise Unreadable((Problem("the command line", 0, 0, says, "name another file; nothing was written"),))
    check_targets(files)


def write_outputs(outputs: Outputs, result: Result, rules: tuple[LoadedRule, ...]) -> int:
    """Writes the reports that are not on the screen already: all files, or none."""
    files = []
    for name, file in outputs:
        if (name, file) != ON_SCREEN[0]:
            text = text_of(name, result, rules, PIPE_WIDTH)
            if file is None:
                sys.stdout.write(text)
            else:
                files.append((file, text))
    if files:
        try:
            write_all(files)
        except Unreadable as wrong:
            sys.stderr.write(unread_text(wrong.problems, wrong.more))
            return UNREADABLE
    return NOTHING
