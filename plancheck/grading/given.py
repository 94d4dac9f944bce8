"""The values a task gives, as the apprentice copied them: a wrong one pays once, and all else is judged by his own."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import Any

from plancheck.facts import Facts
from plancheck.measures import MeasureError, read_length, read_quantity

_KINDS = ("pressure", "flow", "temperature", "volume", "power", "duration")
_SAME = 5e-3  # a share: 62 psi and 4.27 bar are the same figure


def given_share(own: Facts, reference: Facts, paths: tuple[tuple[str, ...], ...]) -> tuple[float, str]:
    """The share of the keys that have the reference's value, and which have not, in a sentence."""
    wrong = []
    for path in paths:
        mine, theirs = _at(own.source.data, path), _at(reference.source.data, path)
        if not same(mine, theirs):
            wrong.append(f"{'.'.join(path)} is {'not said' if mine is None else mine}, given is {theirs}")
    says = f"{len(paths) - len(wrong)} of {len(paths)} given values are copied right"
    return (len(paths) - len(wrong)) / len(paths), f"{says}{'; ' if wrong else ''}{', '.join(wrong)}."


def value_at(data: Any, key: str) -> Any:
    """What a plan says at a key such as water/static; None where nothing."""
    return _at(data, tuple(key.strip("/").split("/")))


def _at(data: Any, path: tuple[str, ...]) -> Any:
    for step in path:
        data = data.get(step) if isinstance(data, Mapping) else None
    return data


def same(one: Any, other: Any) -> bool:
    """Whether two values are the same figure, whatever their units."""
    if one == other:
        return True
    first, second = _figures(one), _figures(other)
    return any(
        kind in second and abs(value - second[kind]) <= _SAME * max(abs(value), abs(second[kind]))
        for kind, value in first.items()
    )


def _figures(value: Any) -> dict[str, float]:
    """A value as a measure of every kind it can be, SI."""
    found: dict[str, float] = {}
    if not isinstance(value, str | int | float) or isinstance(value, bool):
        return found
    with contextlib.suppress(MeasureError):
        found["length"] = read_length(value).m
    for kind in _KINDS:
        try:
            found[kind] = read_quantity(value, kind).si
        except MeasureError:
            continue
    return found
