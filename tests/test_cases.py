"""Every case file: where, outcome, severity and words; and nothing else may be broken."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from plancheck.engine import Judged
from plancheck.report.assemble import pointer
from tests.casework import CASES, case_files, judge, load, plan_of, spoken

_KEYS = {"says", "expect", "others", "base", "plan", "change"}
_WANTED = {"at", "outcome", "severity", "words", "needs"}


def _named(file: Path) -> str:
    return str(file.relative_to(CASES).with_suffix(""))


@pytest.mark.parametrize("file", case_files(), ids=_named)
def test_case(file: Path) -> None:
    case = load(file)
    unread = set(case) - _KEYS | {key for wanted in case["expect"] for key in set(wanted) - _WANTED}
    assert not unread, f"keys of a case that nothing reads: {unread}"
    judged = judge(plan_of(case), file.parent.name)
    met: list[int] = []
    for wanted in case["expect"]:
        found = [number for number, one in enumerate(judged) if _fits(one, wanted) and number not in met]
        assert found, f"nothing answers {wanted}; there is:\n" + "\n".join(_line(one) for one in judged)
        met.append(found[0])
    loose = [one for number, one in enumerate(judged) if number not in met]
    allowed = case.get("others", ["holds", "on site", "later", "not shown"])
    odd = [_line(one) for one in loose if one.outcome.kind not in allowed]
    assert not odd, "not expected:\n" + "\n".join(odd)


def _fits(one: Judged, wanted: dict[str, Any]) -> bool:
    path = pointer(one.outcome.at or one.subject.path)
    if wanted["at"] not in (path, pointer(one.subject.path)) or one.outcome.kind != wanted["outcome"]:
        return False
    if "severity" in wanted and one.outcome.severity != wanted["severity"]:
        return False
    if "needs" in wanted and wanted["needs"] not in map(pointer, one.outcome.needs):
        return False
    words = spoken(one)
    return all(str(word).lower() in words for word in wanted.get("words", []))


def _line(one: Judged) -> str:
    o = one.outcome
    return f"  {pointer(o.at or one.subject.path)} [{one.subject.name}] {o.kind} {o.severity or ''}: {spoken(one)[:300]}"
