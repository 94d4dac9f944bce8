"""Runs: their own keys into a Run, paths copied and turned over where a run is like another."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plancheck.building import tables
from plancheck.building.paths import read_path
from plancheck.building.values import BadValue, exact_length, fill, record, signed_length, text
from plancheck.measures import Length
from plancheck.model import NONE, NOT_KNOWN, Bend, Bends, Joints, Leg, PathPoint, Run, Supports

PathItems = tuple[Leg | PathPoint, ...]
_SUPPORTS = record(Supports, tables.SUPPORTS)
_BEND = record(Bend, tables.BEND)


def read_bends(value: Any) -> Bends | str:
    """How the turns of a run are made: one way for all (with a count where there is no path), or one entry each."""
    if isinstance(value, list):
        return Bends(None, tables.EACH_BEND(value))
    if isinstance(value, dict):
        count = value.get("count")
        return Bends(_BEND(value), None, count)
    return text(value)


def read_supports(value: Any) -> Supports | str:
    """What holds a run."""
    found: Supports | str = _SUPPORTS(value)
    return found


def read_joint(value: Any) -> Joints:
    """How the two ends are joined: one word for both, or {from, to}."""
    if isinstance(value, dict):
        return fill(Joints, tables.JOINTS, value)
    return Joints(text(value), text(value))


def read_fished(value: Any) -> bool | tuple[Length, Length] | str:
    """true, or the two distances from the start between which the run is drawn through closed framing."""
    if isinstance(value, list):
        if len(value) != 2:
            raise BadValue(((), "a fished stretch has two distances", "write [from, to], such as [4 ft, 16 ft]"))
        return exact_length(value[0]), exact_length(value[1])
    return value if isinstance(value, bool) else text(value)


def read_clears(value: Any) -> Mapping[str, Any] | None:
    """Declared distances to hot things by their ids."""
    if not isinstance(value, dict):
        return {} if value == NONE else None
    found = {}
    for hot, said in value.items():
        try:
            found[hot] = tables.CLEAR(said)
        except BadValue as wrong:
            raise BadValue(*(((hot, *path), says, mend) for path, says, mend in wrong.bad)) from None
        except ValueError as wrong:
            raise BadValue(((hot,), getattr(wrong, "says", str(wrong)), getattr(wrong, "mend", ""))) from None
    return found


def read_path_or_word(value: Any) -> PathItems | None:
    """A path; none and not known leave it out."""
    return None if value in (NONE, NOT_KNOWN) else read_path(value)


TABLE = {
    **tables.RUN,
    "path": ("path", read_path_or_word),
    "bends": ("bends", read_bends),
    "supports": ("supports", read_supports),
    "joint": ("joint", read_joint),
    "fished": ("fished", read_fished),
    "clear": ("clear", read_clears),
    "rise": ("rise", signed_length),
}


def build_run(id_: str, data: Mapping[str, Any]) -> Run:
    """The run made of the keys in force, its ends not yet joined. Raises BadValue."""
    return fill(Run, TABLE, data, id=id_)


def shape_of(path: PathItems) -> PathItems:
    """The path as a shape, legs only: what `like` copies. Raises BadValue where a measured point follows a leg."""
    legs: list[Leg | PathPoint] = []
    last = None
    for item in path:
        if isinstance(item, Leg):
            legs.append(item)
            last = None if last is None else (last[0] + item.east_m, last[1] + item.north_m, last[2] + item.up_m)
            continue
        here = (item.east.m, item.north.m, item.up.m)
        if last is not None and item.above is None:
            legs.append(Leg(here[0] - last[0], here[1] - last[1], here[2] - last[2]))
        elif legs or item.above is not None:
            how = "write the legs of this run itself"
            raise BadValue(((), "the path to be copied has a measured point in the middle, so it has no shape", how))
        last = here
    return tuple(legs)


def mirror(path: PathItems, how: str) -> PathItems:
    """The shape turned over: east-west or north-south."""
    east, north = (-1, 1) if how == "east-west" else (1, -1)
    return tuple(
        Leg(east * leg.east_m, north * leg.north_m, leg.up_m, leg.about) for leg in path if isinstance(leg, Leg)
    )
