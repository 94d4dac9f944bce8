"""Old piles: findings that were there when plancheck was first asked are recorded in a file, and later told no more.

A finding is known again by its plan, rule and path; one that has grown worse is new, and a hazard is told every time.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence

from plancheck.errors import Problem, Unreadable
from plancheck.outcomes import SEVERITIES
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport, Stale
from plancheck.report.waivers import RULE as WAIVER
from plancheck.smallshape import read_small


class Entry(NamedTuple):
    """One accepted finding. file: the plan, relative to the folder of the accepted file."""

    file: str
    rule: str
    path: str
    severity: str
    says: str


class Accepted(NamedTuple):
    """An accepted file as read; file: its own name; recorded: the day it was written."""

    file: str
    recorded: str
    entries: tuple[Entry, ...]


class Parted(NamedTuple):
    """The findings of one plan: those to tell, those accepted before, and what was accepted but is found no more."""

    told: list[Finding]
    accepted: tuple[Finding, ...]
    stale: tuple[Stale, ...]


def read_accepted(file: str) -> Accepted:
    """The accepted findings of the file. Raises Unreadable where it is missing or damaged."""
    if not os.path.exists(file):
        raise Unreadable((Problem(file, 0, 0, "there is no such file", "write it with --accept"),))
    data = read_small(file, "accepted").data
    entries = (Entry(*(one[key] for key in Entry._fields)) for one in data["accepted"])
    return Accepted(file, data["recorded"], tuple(entries))


def key_of(plan: str, accepted_file: str) -> str:
    """The plan as the accepted file names it: relative to the folder of that file, with slashes."""
    here = os.path.dirname(os.path.abspath(accepted_file))
    try:
        found = os.path.relpath(os.path.abspath(plan), here)
    except ValueError:  # another drive
        found = os.path.abspath(plan)
    return found.replace(os.sep, "/")


def part(
    accepted: Accepted, plan: str, found: Sequence[Finding], settled: frozenset[str], known: frozenset[str]
) -> Parted:
    """Parts the findings of a plan. settled: the rules that ran and did not fail; known: all rules there are."""
    key = key_of(plan, accepted.file)
    mine = [entry for entry in accepted.entries if entry.file == key]
    taken = _known_again(found, mine)
    told: list[Finding] = []
    before: list[Finding] = []
    for number, one in enumerate(found):
        entry = taken.get(number)
        if entry is None or one.severity == "hazard" or _rank(one.severity) < _rank(entry.severity):
            told.append(one if entry is None else _with_word(one, entry, accepted.recorded))
        else:
            before.append(one)
    left = list(mine)
    for entry in taken.values():
        left.remove(entry)
    gone = (entry for entry in left if entry.rule in settled or entry.rule not in known)
    stale = tuple(Stale(entry.rule, entry.path, entry.severity, entry.says) for entry in sorted(gone))
    return Parted(told, tuple(before), stale)


def _known_again(found: Sequence[Finding], entries: list[Entry]) -> dict[int, Entry]:
    """For findings (by place) the entry that accepts it: first those with the same words, then what is left."""
    left: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        left.setdefault((entry.rule, entry.path), []).append(entry)
    taken: dict[int, Entry] = {}
    for exact in (True, False):
        for number, one in enumerate(found):
            there = left.get((one.rule, one.path), [])
            fitting = [entry for entry in there if not exact or entry.says == one.says]
            if number not in taken and fitting and one.rule != WAIVER:
                taken[number] = fitting[0]
                there.remove(fitting[0])
    return taken


def _with_word(one: Finding, entry: Entry, day: str) -> Finding:
    if one.severity == "hazard" and entry.severity == "hazard":
        word = f"Accepted as of {day}; a hazard is told every time."
    else:
        word = f"Accepted as of {day} as {entry.severity}; it is a {one.severity} now."
    return one._replace(caution=f"{one.caution} {word}".strip())


def _rank(severity: str) -> int:
    return SEVERITIES.index(severity)


def accepted_text(
    old: Accepted | None, file: str, reports: Iterable[PlanReport], ran: frozenset[str], today: str
) -> str:
    """The text of an accepted file with the findings of these reports; of other plans and rules what it had before.

    Nothing is recorded of a plan of which a rule failed: it is not known what is there.
    """
    whole = [report for report in reports if report.verdict != "failed"]
    entries = [
        Entry(key_of(report.file, file), one.rule, one.path, one.severity, one.says)
        for report in whole
        for one in report.findings
        if one.rule != WAIVER
    ]
    anew = {key_of(report.file, file) for report in whole}
    before = old.entries if old is not None else ()
    kept = [entry for entry in before if entry.file not in anew or entry.rule not in ran]
    return _as_json(sorted((*kept, *entries)), today)


def _as_json(entries: list[Entry], today: str) -> str:
    import json

    whole = {"plancheck": 1, "recorded": today, "accepted": [entry._asdict() for entry in entries]}
    return json.dumps(whole, indent=1).replace("\x7f", "\\u007f") + "\n"
