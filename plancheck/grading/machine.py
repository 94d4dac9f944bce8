"""The result of grading as JSON (schemas/result.schema.json) and as CSV for a gradebook."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Sequence
from typing import Any

from plancheck import __version__
from plancheck.grading.results import AspectMark, ClassPicture, Graded, Made, Thing
from plancheck.grading.rubric import Rubric
from plancheck.loader import LoadedRule

FORMAT = 1


def made_with(rubric: Rubric, marks: bytes, rules: Sequence[LoadedRule], reference: bytes, today: str, amendments: bytes = b"") -> Made:
    """What a result rests on. The rulebook is hashed rule by rule: its words, its limits, its code."""
    book = hashlib.sha256()
    for rule in sorted(rules, key=lambda one: one.id):
        with open(rule.file, "rb") as handle:
            book.update(rule.id.encode() + b"\0" + handle.read() + b"\0")
    book.update(amendments)
    return Made(__version__, _hash(rubric.raw), _hash(marks), book.hexdigest(), _hash(reference), today)


def _hash(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest() if raw else ""


def result_json(rubric: Rubric, made: Made, class_: Sequence[Graded], picture: ClassPicture) -> str:
    """The whole result; the same input gives the same bytes."""
    whole = {
        "plancheck": FORMAT,
        "rubric": {"title": rubric.title, "pass": rubric.pass_, "step": rubric.step},
        "made": made._asdict(),
        "candidates": [_candidate(one) for one in class_],
        "class": _picture(picture),
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def _candidate(one: Graded) -> dict[str, Any]:
    return {
        "candidate": one.candidate,
        "sha256": one.sha256,
        "total": one.total,
        "before_cap": one.before_cap,
        "reached": one.reached,
        "to_judge": one.to_judge,
        "unread": list(one.unread),
        "critical": [fault._asdict() for fault in one.critical],
        "sections": [
            {
                "id": section.id,
                "title": section.title,
                "weight": section.weight,
                "mark": round(section.mark, 4),
                "failed": list(section.failed),
                "aspects": [_aspect(aspect) for aspect in section.aspects],
            }
            for section in one.sections
        ],
        "first": [_thing(thing) for thing in one.first],
        "findings": [
            {"rule": found.rule, "path": found.path, "severity": found.severity, "says": found.says}
            for found in (one.report.findings if one.report is not None else ())
        ],
        "mended": [change._asdict() for change in one.mended],
        "unsaid": [change._asdict() for change in one.unsaid],
        "new": [change._asdict() for change in one.new],
        "still": one.still,
        "total_before": one.total_before,
        "existing": one.existing,
    }


def _thing(thing: Thing) -> dict[str, Any]:
    numbers = [fault.number for fault in thing.faults]
    return {"title": thing.title, "gain": round(thing.gain, 4), "findings": numbers, "says": thing.says, "critical": thing.critical}


def _aspect(aspect: AspectMark) -> dict[str, Any]:
    return {
        "key": aspect.key,
        "title": aspect.title,
        "weight": aspect.weight,
        "mark": round(aspect.mark, 4),
        "state": aspect.state,
        "says": aspect.says,
        "faults": [fault.number for fault in aspect.faults],
        "not_shown": aspect.not_shown,
        "gain": round(aspect.gain, 4),
        "because": aspect.because,
        "by": aspect.by,
        "second": aspect.second,
    }


def _picture(picture: ClassPicture) -> dict[str, Any]:
    found = picture._asdict()
    found["aspects"] = [one._asdict() for one in picture.aspects]
    found["alike"] = [one._asdict() for one in picture.alike]
    return found


def gradebook(rubric: Rubric, class_: Sequence[Graded]) -> str:
    """A line for each candidate: total, sections, critical faults. CSV with a first line of names."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    titles = [f"{section.title} (of {section.weight:g})" for section in rubric.sections]
    writer.writerow(["candidate", "total", "before caps", "reached", "to judge", *map(_cell, titles), "critical faults", "unread"])
    for one in class_:
        marks = {section.id: f"{section.mark:.2f}" for section in one.sections}
        reached = {True: "yes", False: "no", None: ""}[one.reached]
        writer.writerow(
            [
                _cell(one.candidate),
                f"{one.total:g}",
                f"{one.before_cap:g}",
                reached,
                one.to_judge or "",
                *(marks.get(section.id, "") for section in rubric.sections),
                _cell("; ".join(fault.title for fault in one.critical)),
                _cell(" ".join(one.unread)),
            ]
        )
    return out.getvalue()


def _cell(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.lstrip()[:1] in ("=", "+", "-", "@", "\t", "\r") else text
