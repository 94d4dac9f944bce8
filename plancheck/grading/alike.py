"""Plans that are nearly the same, whatever their things are called: for a person to look at, never a verdict.

Each plan is a set of features: its runs by what they join, their legs and length, its parts by what is said of them, and
every value of tubes, defaults and water. Two plans are near-identical where they share nearly all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from plancheck.facts import Facts
from plancheck.record import NamedTuple

LEAST_SHARE, LEAST_FEATURES = 0.97, 8
_LOOKED_AT = 5  # of a group: enough for a chain of copies of copies
_NAMES = frozenset(("name", "label", "title", "by", "date", "photo", "number", "says"))
Features = frozenset[int]


class Alike(NamedTuple):
    """Candidates whose plans are near-identical; share: the least that one of them shares with another of the group."""

    candidates: tuple[str, ...]
    share: float



def features_of(facts: Facts) -> Features:
    """The features of a plan, hashed. The same within one call of the program, not from one to the next."""
    kinds = {id_: part.is_ for id_, part in facts.plan.parts.items()}
    data = facts.source.data
    found = [_run(kinds, run) for run in _entries(data, "runs")]
    found += [("part", tuple(_said(part, {}))) for part in _entries(data, "parts")]
    for section in ("tubes", "defaults", "water", "materials", "heat", "code"):
        found += [(section, *leaf) for leaf in _leaves(data.get(section))]
    counted: dict[Any, int] = {}
    features = set()
    for one in found:  # the third run of one kind is another feature than the second
        counted[one] = counted.get(one, 0) + 1
        features.add(hash((one, counted[one])))
    return frozenset(features)


def _leaves(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, str]]:
    """Every value at any depth with the way to it."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _leaves(one, (*path, key))
    elif value is not None and path[-1:] != ("gauge",):  # the gauge is called by a part's name
        yield "/".join(path), repr(value)


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


def near_identical(plans: Mapping[str, Features], given: Features = frozenset()) -> list[Alike]:
    """Groups of candidates whose plans share nearly all, the largest first, each by name: the same in whatever order they came.

    given: what a task gives everybody (its reference layout); what counts then is where plans depart from it alike, by what
    they have besides and by what they leave out.
    """
    plans = {name: features ^ given for name, features in plans.items()}
    groups: list[list[str]] = []
    shares: list[float] = []
    for name, features in sorted(plans.items()):
        found = [(_closest(features, group, plans), number) for number, group in enumerate(groups)]
        share, number = max(found, default=(0.0, 0))
        if share < LEAST_SHARE:
            groups.append([name])
            shares.append(1.0)
        else:
            groups[number].append(name)
            shares[number] = min(shares[number], share)
    alike = [Alike(tuple(group), share) for group, share in zip(groups, shares, strict=True) if len(group) > 1]
    return sorted(alike, key=lambda one: (-len(one.candidates), one.candidates))


def _closest(features: Features, group: list[str], plans: Mapping[str, Features]) -> float:
    """The largest share with one of the first of a group."""
    return max(_share(features, plans[name]) for name in group[:_LOOKED_AT])


def _share(one: Features, other: Features) -> float:
    small, large = sorted((len(one), len(other)))
    if small < LEAST_FEATURES or small < LEAST_SHARE * large:
        return 0.0
    common = len(one & other)
    return common / (len(one) + len(other) - common)
