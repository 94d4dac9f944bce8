"""The marks file: what persons gave, and where they overrode the tool, with reason and second marker."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from plancheck.building.notes import nearest
from plancheck.errors import Problem, Unreadable
from plancheck.grading.rubric import JUDGE, Rubric
from plancheck.reading import Path, Source
from plancheck.record import NamedTuple
from plancheck.smallshape import read_small


class Judged(NamedTuple):
    """A level from 0 to 3 that a person gave."""

    level: int
    by: str
    because: str = ""


class Override(NamedTuple):
    """Marks in place of those the tool found."""

    mark: float
    because: str
    by: str
    second: str


class Lifted(NamedTuple):
    """Why the effect of a critical fault was lifted, and by whom."""

    because: str
    by: str
    second: str


class Marks(NamedTuple):
    """By candidate, then by aspect (`section/aspect`) or critical fault. raw: the bytes of the file."""

    raw: bytes
    judged: Mapping[str, Mapping[str, Judged]]
    overrides: Mapping[str, Mapping[str, Override]]
    lifted: Mapping[str, Mapping[str, Lifted]] = {}


_ONE_PERSON = ("first and second marker are one person", "have somebody else look as well")
NO_MARKS = Marks(b"", {}, {})


def load_marks(file: str, rubric: Rubric, candidates: Collection[str]) -> Marks:
    """The marks of the file. Raises Unreadable with everything that is wrong: aspects and candidates that are not there."""
    source = read_small(file, "marks")
    problems: list[Problem] = []
    judged: dict[str, dict[str, Judged]] = {}
    overrides: dict[str, dict[str, Override]] = {}
    lifted: dict[str, dict[str, Lifted]] = {}
    for candidate, entry in source.data["candidates"].items():
        if candidate not in candidates:
            mend = f"{nearest(candidate, candidates)}name a candidate of this class"
            problems.append(_problem(source, ("candidates", candidate), f"there is no candidate '{candidate}'", mend))
        for kind in ("judge", "overrides"):
            for key, one in entry.get(kind, {}).items():
                path = ("candidates", candidate, kind, key)
                wrong = _wrong(rubric, key, kind, one)
                if wrong is not None:
                    problems.append(_problem(source, path, *wrong))
                elif kind == "judge":
                    judged.setdefault(candidate, {})[key] = Judged(one["level"], one["by"], one.get("because", ""))
                else:
                    made = Override(float(one["mark"]), one["because"], one["by"], one["second"])
                    overrides.setdefault(candidate, {})[key] = made
        for key, one in entry.get("lift", {}).items():
            wrong = _wrong_lift(rubric, key, one)
            if wrong is not None:
                problems.append(_problem(source, ("candidates", candidate, "lift", key), *wrong))
            lifted.setdefault(candidate, {})[key] = Lifted(one["because"], one["by"], one["second"])
    if problems:
        raise Unreadable(tuple(problems))
    return Marks(source.raw, judged, overrides, lifted)


def _wrong_lift(rubric: Rubric, key: str, one: Mapping[str, Any]) -> tuple[str, str] | None:
    known = [fault.id for fault in rubric.critical]
    if key not in known:
        return f"there is no critical fault '{key}'", f"{nearest(key, known)}name one of this rubric"
    return _ONE_PERSON if one["by"].strip().casefold() == one["second"].strip().casefold() else None


def _problem(source: Source, path: Path, says: str, mend: str) -> Problem:
    return Problem(source.file, *source.key_place(path), says, mend)


def _wrong(rubric: Rubric, key: str, kind: str, one: Mapping[str, Any]) -> tuple[str, str] | None:
    """What is wrong with one entry, and how to mend it."""
    aspects = rubric.aspects()
    if key not in aspects:
        return f"there is no aspect '{key}'", f"{nearest(key, aspects)}name it as section/aspect"
    aspect = aspects[key][1]
    if kind == "judge" and aspect.way != JUDGE:
        return f"{key} is not judged by a person", "to change its marks write it under overrides"
    if kind == "overrides":
        if one["mark"] > aspect.weight:
            return f"{one['mark']:g} marks are more than its {aspect.weight:g}", "write a smaller mark"
        if one["by"].strip().casefold() == one["second"].strip().casefold():
            return _ONE_PERSON
    return None
