"""Paths: legs such as "up 8 ft" or "east 3 ft and up 1 ft", and measured points [east, north, up]."""

from __future__ import annotations

from typing import Any

from plancheck.building.values import BadValue, each
from plancheck.measures import Length, MeasureError, read_length
from plancheck.model import DIRECTIONS, Clear, Leg, PathPoint

_LEGS: dict[str, Leg] = {}  # a leg's text -> the leg; the same legs recur in a plan
_MOST_LEGS = 20_000


def _read_item(value: Any) -> Leg | PathPoint:
    return read_point(value) if isinstance(value, list) else read_leg(value)


_READ_ITEMS = each(_read_item)


def read_path(value: Any) -> tuple[Leg | PathPoint, ...]:
    """The legs and points of a path. Raises BadValue with every one that cannot be taken."""
    return tuple(_READ_ITEMS(value if isinstance(value, list) else [value]))


def read_leg(value: Any) -> Leg:
    """One leg, in metres east, north and up. Raises BadValue or MeasureError."""
    leg = _LEGS.get(value) if isinstance(value, str) else None
    if leg is None:
        leg = _leg(str(value))
        if len(_LEGS) < _MOST_LEGS:
            _LEGS[str(value)] = leg
    return leg


def _leg(said: str) -> Leg:
    way = [0.0, 0.0, 0.0]
    about = False
    for part in said.split(" and "):
        word, _, rest = part.strip().partition(" ")
        direction = DIRECTIONS.get(word.lower())
        if direction is None or not rest:
            raise BadValue(((), f"'{said[:60]}' is no leg of a path", _how(word)))
        measured = read_length(rest)
        about = about or measured.about
        for axis in range(3):
            way[axis] += direction[axis] * measured.m
    if way == [0.0, 0.0, 0.0]:
        raise BadValue(((), f"'{said[:60]}' goes nowhere", "leave the leg out, or write how far it goes"))
    return Leg(way[0], way[1], way[2], about)


def _how(word: str) -> str:
    import difflib

    near = difflib.get_close_matches(word.lower(), DIRECTIONS, 1)
    hint = f"did you mean {near[0]}? " if near else ""
    return hint + "write a direction (up, down, north, south, east, west) and a length, such as  up 8 ft"


def read_point(value: Any) -> PathPoint:
    """A measured point: east, north and up; the third may be a height above a place: 20 in above bath."""
    if not isinstance(value, list) or len(value) != 3:
        raise BadValue(((), "a point has three measures", "write [east, north, up], such as [10 ft, 0, 5 ft]"))
    above = None
    up = value[2]
    if isinstance(up, str) and " above " in up:
        up, _, above = (part.strip() for part in up.partition(" above "))
    return PathPoint(_at(value[0], 0), _at(value[1], 1), _at(up, 2), above)


def _at(value: Any, number: int) -> Length:
    try:
        return read_length(value)
    except MeasureError as wrong:
        raise BadValue(((number,), wrong.says, wrong.mend)) from None


def read_clear(value: Any) -> tuple[Clear, ...]:
    """Declared distances to a hot thing: 8 in beside, 14 in above, or a list of them."""
    found = []
    for said in value if isinstance(value, list) else [value]:
        body, _, side = str(said).strip().rpartition(" ")
        if side not in ("beside", "above"):
            raise BadValue(((), f"'{said}' does not say where", "write the distance and beside or above: 8 in beside"))
        found.append(Clear(read_length(body), side))
    return tuple(found)
