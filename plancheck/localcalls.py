"""The files of a call that are local: amendments, waivers, accepted findings. Loaded only when one is named."""

from __future__ import annotations

import os
import sys

from plancheck.accepted import Accepted, accepted_text, read_accepted
from plancheck.calls import Call, is_same, run_call, write_whole
from plancheck.errors import Problem, Unreadable
from plancheck.loader import LoadedRule
from plancheck.reading import MOST_BYTES
from plancheck.report.assemble import Options


def add_local(options: Options, call: Call, rules: tuple[LoadedRule, ...]) -> None:
    """Reads what the call names into its options. rules: all there are. Raises Unreadable with all that is wrong."""
    problems: list[Problem] = []
    more = 0
    for read in (_amendments, _waivers, _accepted):
        try:
            read(options, call, rules)
        except Unreadable as wrong:
            problems.extend(wrong.problems)
            more += wrong.more
    if problems:
        raise Unreadable(tuple(problems), more)


def _amendments(options: Options, call: Call, rules: tuple[LoadedRule, ...]) -> None:
    if call.amend is not None:
        from plancheck.amendments.load import load_amendments

        options.amendments = load_amendments(call.amend, rules)


def _waivers(options: Options, call: Call, rules: tuple[LoadedRule, ...]) -> None:
    if call.waivers is not None:
        from plancheck.waiverfile import load_waivers

        options.waivers = load_waivers(call.waivers, call.plans)


def _accepted(options: Options, call: Call, rules: tuple[LoadedRule, ...]) -> None:
    if call.accepted is None:
        if call.accept:
            says = "--accept says to record the findings, but not where"
            raise Unreadable((Problem("the command line", 0, 0, says, "name the file with --accepted FILE"),))
        return
    for file in (*call.plans, call.amend, call.waivers) if call.accept else ():
        if file is not None and is_same(file, call.accepted):
            says = f"--accepted {call.accepted} is {file} itself, which would be written over"
            raise Unreadable((Problem("the command line", 0, 0, says, "name another file; nothing was written"),))
    if not (call.accept and not os.path.lexists(call.accepted)):
        options.accepted = read_accepted(call.accepted)


def accept(call: Call, rules: tuple[LoadedRule, ...], options: Options) -> Accepted:
    """Records the findings of all readable plans of the call as accepted, and gives what was written.

    Raises Unreadable where it cannot be written.
    """
    file, old = str(call.accepted), options.accepted
    options.accepted = None
    reports = run_call(call, rules, options).reports
    text = accepted_text(old, file, reports, frozenset(rule.id for rule in rules), call.today)
    if len(text) > MOST_BYTES:
        says = f"there are more findings than a file of {MOST_BYTES:,} bytes holds"
        raise Unreadable((Problem(file, 0, 0, says, "accept the plans in several files; nothing was written"),))
    write_whole(file, text, "the accepted findings")
    written = read_accepted(file)
    sys.stderr.write(f"{file}: {len(written.entries)} findings accepted as of {written.recorded}\n")
    return written
