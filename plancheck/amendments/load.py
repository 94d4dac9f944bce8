"""From an amendments file to the amended limits of each rule, or to everything that is wrong with it, with places."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Any

from plancheck.amendments.values import read_value
from plancheck.building.notes import nearest
from plancheck.building.values import BadValue, date
from plancheck.errors import Problem, Unreadable
from plancheck.limits import Amended, Limit, Source
from plancheck.loader import LoadedRule
from plancheck.measures import MeasureError
from plancheck.reading import Source as File
from plancheck.record import NamedTuple
from plancheck.smallshape import read_small

_LONGEST_CHAIN = 8
_Limits = Mapping[str, Mapping[str, Amended]]


class Amendments(NamedTuple):
    """The amended limits in force: by rule, then by the limit's own name. based_on: the other file as named, or empty."""

    file: str
    authority: str
    edition: str
    date: str
    based_on: str
    limits: _Limits


class _Bad(Exception):
    def __init__(self, key: str, says: str, mend: str) -> None:
        super().__init__(says)
        self.key, self.says, self.mend = key, says, mend


def load_amendments(file: str, rules: tuple[LoadedRule, ...], seen: tuple[str, ...] = ()) -> Amendments:
    """The amendments of the file and of the one it is based on, if any. seen: the files that are based on this one.

    Raises Unreadable with everything that is wrong in either.
    """
    source = read_small(file, "amendments")
    data = source.data
    by_id = {rule.id: rule for rule in rules}
    problems = _wrong_day(source)
    limits, more = _base(source, rules, (*seen, os.path.realpath(file)))
    for key, entry in data["limits"].items():
        try:
            rule, limit = _named(key, by_id)
            amended = _amended(limit, entry, data)
        except _Bad as wrong:
            problems.append(_problem(source, key, wrong))
        else:
            limits.setdefault(rule, {})[limit.id] = amended
    if problems or more:
        raise Unreadable((*sorted(problems, key=lambda one: (one.line, one.column)), *more))
    return Amendments(
        file, data["authority"].strip(), str(data["edition"]), data["date"], data.get("based_on", ""), limits
    )


def _wrong_day(source: File) -> list[Problem]:
    try:
        date(source.data["date"])
    except BadValue as wrong:
        return [Problem(source.file, *source.place(("date",)), f"date: {wrong.bad[0][1]}", wrong.bad[0][2])]
    return []


def _problem(source: File, key: str, wrong: _Bad) -> Problem:
    path = ("limits", key)
    line, column = source.place((*path, wrong.key)) if wrong.key else source.key_place(path)
    from plancheck.shapesay import cut

    return Problem(source.file, line, column, f"{cut(key)}: {wrong.says}", wrong.mend)


def _base(
    source: File, rules: tuple[LoadedRule, ...], seen: tuple[str, ...]
) -> tuple[dict[str, dict[str, Amended]], tuple[Problem, ...]]:
    """The limits of the file that this one is based on, and what is wrong with that."""
    name = source.data.get("based_on")
    if name is None:
        return {}, ()
    place = source.place(("based_on",))
    other = os.path.join(os.path.dirname(source.file), name)
    try:
        real = os.path.realpath(other)
    except (OSError, ValueError):
        return {}, (Problem(source.file, *place, "based_on: this cannot be the name of a file", "name another file"),)
    if real in seen:
        says = f"based_on: '{name}' leads back to this file: a circle"
        return {}, (Problem(source.file, *place, says, "base it on a file that is not based on this one"),)
    if len(seen) >= _LONGEST_CHAIN:
        says = f"based_on: this is the {len(seen)}th file in a row"
        return {}, (Problem(source.file, *place, says, "write the amendments into fewer files"),)
    try:
        found = load_amendments(other, rules, seen)
    except Unreadable as wrong:
        return {}, wrong.problems
    return {rule: dict(limits) for rule, limits in found.limits.items()}, ()


def _named(key: str, rules: Mapping[str, LoadedRule]) -> tuple[str, Limit]:
    rule, _, name = key.partition(".")
    if rule not in rules:
        raise _Bad("", f"there is no rule '{rule}'", f"{nearest(rule, rules)}plancheck rules lists them")
    limits = {limit.id: limit for limit in rules[rule].rule.limits}
    if name not in limits:
        mend = f"{nearest(name, limits)}plancheck why {rule} lists them"
        if not limits:
            mend = "leave it out: that rule compares with no number"
        raise _Bad("", f"rule '{rule}' has no limit '{name}'", mend)
    return rule, limits[name]


def _amended(limit: Limit, entry: Mapping[str, Any], data: Mapping[str, Any]) -> Amended:
    off = "judged" in entry
    value = None
    if "value" in entry:
        try:
            value = read_value(limit, entry["value"])
        except MeasureError as wrong:
            raise _Bad("value", wrong.says, wrong.mend) from None
    if off and ("value" in entry or "severity" in entry):
        raise _Bad("judged", "a limit that is not judged has no value or severity", "leave one of them out")
    if not off and "value" not in entry and "severity" not in entry:
        raise _Bad("", "this amends nothing", "add a value, a severity, or  judged: false")
    source = Source(data["authority"].strip(), str(data["edition"]), str(entry.get("clause", "")), "amended")
    return Amended(source, entry["because"].strip().rstrip("."), value, entry.get("severity"), off)
