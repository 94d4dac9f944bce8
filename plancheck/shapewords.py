"""The shape errors of a file as a plumber reads them: where, what was found, how to mend it."""

from __future__ import annotations

from plancheck.errors import Problem
from plancheck.reading import MOST_PROBLEMS, Path, Source
from plancheck.shapefaults import Fault, find_faults
from plancheck.shapekeys import key_words
from plancheck.shapesay import cut
from plancheck.shapevalues import value_words

_THINGS = {
    "places": "place",
    "tubes": "tube",
    "parts": "part",
    "heat": "hot thing",
    "runs": "run",
    "tests": "test",
    "claims": "claim",
    "measured": "reading",
    "waivers": "waiver",
}
_DIRECTIONS = ("east", "north", "up")


def explained(source: Source) -> tuple[tuple[Problem, ...], int]:
    """The first 50 problems of a refused file in file order, and the number of the rest, as check_shape says."""
    faults, unseen = find_faults(source.data)
    placed = sorted(((_place(source, fault), number) for number, fault in enumerate(faults)))
    problems = [_problem(source.file, place, faults[number]) for place, number in placed[:MOST_PROBLEMS]]
    return tuple(problems), len(faults) - len(problems) + unseen


def _place(source: Source, fault: Fault) -> tuple[int, int]:
    return source.key_place(fault.path) if fault.at_key() else source.place(fault.path)


def _problem(file: str, place: tuple[int, int], fault: Fault) -> Problem:
    path = fault.path
    if fault.rule == "missing":
        found, mend = key_words(fault)
        return Problem(file, *place, f"{where(path) or 'the plan'} {found}", mend)
    if fault.at_key():
        path, (found, mend) = path[:-1], key_words(fault)
    else:
        found, mend = value_words(fault)
    at = where(path)
    return Problem(file, *place, f"{at}: {found}" if at else found, mend)


def where(path: Path) -> str:
    """A path in words: run bath-cold, supports, every. Entries of lists count from 1."""
    if len(path) > 1 and path[0] in _THINGS:
        name = path[1] + 1 if isinstance(path[1], int) else cut(path[1])
        words = [f"{_THINGS[str(path[0])]} {name}"]
        start = 2
    else:
        words, start = [], 0
    for number in range(start, len(path)):
        words.append(_step(path, number))
    return ", ".join(words)


def _step(path: Path, number: int) -> str:
    step, before = path[number], path[number - 1] if number else ""
    if isinstance(step, int):
        in_point = isinstance(before, int) or (before == "at" and number == 3 and path[0] in ("parts", "heat"))
        return _DIRECTIONS[step] if in_point and step < len(_DIRECTIONS) else f"entry {step + 1}"
    return cut(step)
