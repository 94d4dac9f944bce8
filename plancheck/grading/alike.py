"""Plans that are nearly the same, whatever their things are called: for a person to look at, never a verdict.

Each plan is a set of features: its runs by what they join, their tube, legs and length, and its parts by what is said of
them. Two plans are near-identical where they share nearly all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Any

from plancheck.facts import Facts

LEAST_SHARE, LEAST_FEATURES = 0.92, 8
_NAMES = frozenset(("name", "label", "title", "by", "date", "photo", "number", "says"))
Features = frozenset[int]


def features_of(facts: Facts) -> Features:
    """The features of a plan, hashed. The same within one call of the program, not from one to the next."""
    kinds = {id_: part.is_ for id_, part in facts.plan.parts.items()}
    data = facts.source.data
    found = [_run(kinds, run) for run in _entries(data, "runs")]
    found += [("part", tuple(_said(part, {}))) for part in _entries(data, "parts")]
    counted: dict[Any, int] = {}
    features = set()
    for one in found:  # the third run of one kind is another feature than the second
        counted[one] = counted.get(one, 0) + 1
        features.add(hash((one, counted[one])))
    return frozenset(features)


def _entries(data: Mapping[str, Any], section: str) -> list[Mapping[str, Any]]:
    found = data.get(section)
    return [one for one in found.values() if isinstance(one, dict)] if isinstance(found, dict) else []


def _run(kinds: Mapping[str, str], run: Mapping[str, Any]) -> tuple[Any, ...]:
    return ("run", tuple(_said(run, kinds)))


def _said(entry: Mapping[str, Any], kinds: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """What is said of a thing, names of people's and of things' left out: an end is told by the kind it is of."""
    for key in sorted(entry):
        value = entry[key]
        if key in _NAMES or key in ("like", "place", "places", "tube"):
            continue
        if key in ("from", "to", "onto"):
            part, _, connection = str(value).partition("/")
            yield key, f"{kinds.get(part, '')}/{connection}"
        else:
            yield key, repr(value)


def near_identical(plans: Mapping[str, Features]) -> list[tuple[str, str, float]]:
    """Pairs of candidates whose plans share nearly all, with the share, the closest first."""
    found = []
    for (one, first), (other, second) in combinations(plans.items(), 2):
        small, large = sorted((len(first), len(second)))
        if small < LEAST_FEATURES or small < LEAST_SHARE * large:
            continue
        share = len(first & second) / len(first | second)
        if share >= LEAST_SHARE:
            found.append((one, other, share))
    return sorted(found, key=lambda pair: (-pair[2], pair[0], pair[1]))
