"""Fixtures whose sides carry the wrong water, grouped by where it goes wrong: one crossed joint, one group.

The place is sought upstream of a wrong side as long as all that hangs there is wrong too; a manifold's port is passed only
where all of its manifold is.
"""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import FixtureOwn, HeaterOwn, Part, Path
from plancheck.network.waters import COLD, HOT, MIXED, NOT_POTABLE, RETURN
from plancheck.record import NamedTuple
from plancheck.upstream import above, new_pipe, place_of

NOT_DRUNK = ("toilet", "urinal", "hose outlet")
_COLD_FITS = {
    "toilet": (COLD, MIXED, NOT_POTABLE),
    "urinal": (COLD, MIXED, NOT_POTABLE),
    "hose outlet": (COLD, NOT_POTABLE),
}
HOT_FITS = (HOT, MIXED, RETURN)


class Side(NamedTuple):
    """One side of a fixture: its part, cold or hot, its tap, and the water traced there (None: no water)."""

    part: Part
    side: str
    tap: int
    water: str | None
    fed: bool

    @property
    def name(self) -> str:
        """As connections are named: lav/hot."""
        return f"{self.part.id}/{self.side}"


class Group(NamedTuple):
    """Wrong sides with one cause: where it goes wrong (a path), and whether any of what is joined there is new."""

    sides: tuple[Side, ...]
    root: Path
    new: bool


def all_sides(facts: Facts) -> tuple[Side, ...]:
    """Every side of every fixture that stays, in the order of the plan."""
    graph, traced = facts.network, facts.traced
    found = []
    for part in facts.plan.parts.values():
        if part.work == "removed" or KINDS[part.is_].sort != "fixture":
            continue
        for side in KINDS[part.is_].connections:
            tap = graph.outlets[f"{part.id}/{side}"]
            found.append(Side(part, side, tap, traced.services.get(tap), tap in traced.parents))
    return tuple(found)


def is_wrong(side: Side, other: Side | None) -> bool:
    """Whether a side with water carries what it should not; other: the fixture's other side."""
    if side.water is None or _takes_either(side):
        return False
    if side.water == NOT_POTABLE:
        return side.part.is_ not in NOT_DRUNK
    if side.side == "hot":
        return side.water not in HOT_FITS
    if side.water == MIXED and other is not None and other.water == MIXED:
        return False
    return side.water not in _COLD_FITS.get(side.part.is_, (COLD,))


def _takes_either(side: Side) -> bool:
    """Whether nothing can be told from the water of a side: dishwashers for cold water are made."""
    return side.part.is_ == "dishwasher" and side.water == COLD


def wrong_groups(facts: Facts, sides: Iterable[Side]) -> tuple[Group, ...]:
    """The wrong sides by what makes them wrong."""
    sides = tuple(sides)
    by_name = {side.name: side for side in sides}
    wrong = [side for side in sides if is_wrong(side, by_name.get(f"{side.part.id}/{_other(side.side)}"))]
    if not wrong:
        return ()
    spoiled = [side for side in wrong if side.water == NOT_POTABLE]
    crossed = [side for side in wrong if side.water != NOT_POTABLE]
    return (*_not_potable(facts, spoiled), *_crossed(facts, crossed, _sound(facts, sides, wrong)))


def _other(side: str) -> str:
    return "hot" if side == "cold" else "cold"


def _sound(facts: Facts, sides: Iterable[Side], wrong: list[Side]) -> set[int]:
    """The vertices from which something goes on that is right: upstream of right sides and of heaters."""
    graph, bad = facts.network, {side.tap for side in wrong}
    ends = [side.tap for side in sides if side.tap not in bad and not _takes_either(side)]
    ends += [
        v for p in facts.plan.parts.values() if isinstance(p.own, HeaterOwn) and (v := graph.number.get(p.id, -1)) >= 0
    ]
    found: set[int] = set()
    for end in ends:
        vertex: int | None = end
        while vertex is not None and vertex not in found:
            found.add(vertex)
            vertex = above(facts, vertex)
            if vertex is not None and vertex in graph.hearts:
                break
    return found


def _crossed(facts: Facts, wrong: list[Side], sound: set[int]) -> list[Group]:
    roots = {side.name: _root(facts, side.tap, sound) for side in wrong}
    first: dict[int, int] = {}  # root -> the root of its group: the two sides of a fixture are one fault
    by_part: dict[str, int] = {}
    for side in wrong:
        mine = roots[side.name]
        group = first.setdefault(mine, by_part.get(side.part.id, mine))
        by_part.setdefault(side.part.id, group)
    grouped: dict[int, list[Side]] = {}
    for side in wrong:
        grouped.setdefault(first[roots[side.name]], []).append(side)
    return _swapped([_group(facts, tuple(group), root, roots) for root, group in grouped.items()])


def _swapped(groups: list[Group]) -> list[Group]:
    """The groups, with the only cold sides that carry hot and the only hot sides that carry cold as one: a swap."""
    cold, hot = ([one for one in groups if {side.side for side in one.sides} == {which}] for which in ("cold", "hot"))
    if len(cold) != 1 or len(hot) != 1:
        return groups
    one = Group((*cold[0].sides, *hot[0].sides), cold[0].root, cold[0].new or hot[0].new)
    return [one, *(group for group in groups if group not in (cold[0], hot[0]))]


def _root(facts: Facts, tap: int, sound: set[int]) -> int:
    """How far up all that hangs there is wrong."""
    graph, vertex = facts.network, tap
    while (before := above(facts, vertex)) is not None and before not in sound and before not in graph.hearts:
        if graph.names[before].endswith(":row"):
            feed = _feed(facts, before)
            if feed in sound:
                break
            vertex = feed
        else:
            vertex = before
    return vertex


def _feed(facts: Facts, row: int) -> int:
    """The connection by which water comes into a manifold, from one of its row."""
    names, vertex = facts.network.names, row
    manifold = names[row].partition("/")[0]
    while (before := above(facts, vertex)) is not None and names[before].partition("/")[0] == manifold:
        vertex = before
    return vertex


def _group(facts: Facts, sides: tuple[Side, ...], root: int, roots: dict[str, int]) -> Group:
    parts = dict.fromkeys(side.part.id for side in sides)
    new = any(is_new(side.part) for side in sides) or any(new_pipe(facts, side.tap, roots[side.name]) for side in sides)
    if len(parts) == 1:
        only: Path = ("parts", sides[0].part.id)
        return Group(sides, only if len(sides) > 1 else (*only, sides[0].side), new)
    return Group(sides, place_of(facts, root), new)


def crossed_runs(facts: Facts) -> dict[str, Path]:
    """The runs between each wrong side and where it goes wrong, with the place at which that is told."""
    sides = all_sides(facts)
    groups = wrong_groups(facts, sides)
    sound = _sound(facts, sides, [side for group in groups for side in group.sides])
    found: dict[str, Path] = {}
    for group in groups:
        for side in group.sides:
            vertex: int | None = side.tap
            while vertex is not None and vertex not in sound and vertex not in facts.network.hearts:
                number = facts.traced.parents.get(vertex, -1)
                run = facts.network.edges[number].run if number >= 0 else None
                if run is not None:
                    found.setdefault(run, group.root)
                vertex = above(facts, vertex)
    return found


def _not_potable(facts: Facts, sides: list[Side]) -> list[Group]:
    grouped: dict[Path, list[Side]] = {}
    for side in sides:
        grouped.setdefault(_spoiler(facts, side.tap), []).append(side)
    return [Group(tuple(group), root, True) for root, group in grouped.items()]


def _spoiler(facts: Facts, tap: int) -> Path:
    """The device behind which water is not potable, nearest the source, or the source itself."""
    graph, found = facts.network, ("parts", "", "")
    vertex: int | None = tap
    while vertex is not None:
        name = graph.names[vertex]
        part = facts.plan.parts.get(name)
        if part is not None and part.is_ == "backflow preventer":
            found = ("parts", name, "serves")
        vertex = above(facts, vertex)
    if found[1]:
        return found
    source = next((part.id for part in facts.plan.parts.values() if part.is_ == "source"), "")
    return ("parts", source, "potable")


def said_none(part: Part, side: str) -> bool:
    """Whether the plan says that a side is not used."""
    return isinstance(part.own, FixtureOwn) and (part.own.hot if side == "hot" else part.own.cold) == "none"
