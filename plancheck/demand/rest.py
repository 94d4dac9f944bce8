"""The rest of a house: by its fixtures where all can be counted, else by what it draws, else not shown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plancheck.demand.fixtures import COLD, HOT, Counted, Item, Missing, row_of, sides_of, study_of, units_of
from plancheck.demand.groups import role_of
from plancheck.kinds import KINDS
from plancheck.measures import Quantity
from plancheck.model import NONE, FixtureOwn, Part, RestOwn

_PLAIN = FixtureOwn()
_NOTHING = Counted()


def rest_items(part: Part, family: str | None, number: int, as_piped: bool) -> Iterator[Item]:
    """One item for the part itself (its draw, or why it is not shown) and one for each kind of fixture in it."""
    own = part.own if isinstance(part.own, RestOwn) else RestOwn()
    only_cold = as_piped and own.hot == NONE
    kinds = _kinds(own)
    units = [units_of(part.id, row_of(kind, _PLAIN), family) for kind in kinds or ()]
    study = [study_of(kind, part.id, _PLAIN) for kind in kinds or ()]
    by_units, by_study = _itself(part, own, kinds, units), _itself(part, own, kinds, study)
    yield Item(number, COLD if only_cold else COLD | HOT, by_units, by_study)
    for place, (kind, count) in enumerate((kinds or {}).items()):
        mine = units[place] if by_units == _NOTHING else _NOTHING
        if only_cold and mine.weight is not None:
            mine = mine._replace(weight=(mine.weight[2], 0, mine.weight[2]))
        yield Item(
            number + 1 + place,
            COLD if only_cold else sides_of(kind),
            mine,
            study[place] if by_study == _NOTHING else _NOTHING,
            count,
            f"{part.id}/",  # its own room: no place is called so
            None if only_cold else role_of(row_of(kind, _PLAIN), family),
        )


def _itself(part: Part, own: RestOwn, kinds: Mapping[str, int] | None, counted: list[Counted]) -> Counted:
    """What stands for the part beside its fixtures: nothing where all of them are counted."""
    gaps = [one.missing for one in counted if one.missing is not None]
    if kinds is not None and not gaps:
        return _NOTHING
    if isinstance(own.draw, Quantity):
        return Counted(draw_m3s=own.draw.si)
    if gaps:
        return Counted(missing=gaps[0])
    name = part.name or part.id.replace("-", " ")
    return Counted(missing=Missing(f"what {name} takes: its fixtures or its draw", ("parts", part.id, "fixtures")))


def _kinds(own: RestOwn) -> dict[str, int] | None:
    """How many of each kind of fixture; None where that is not said of all."""
    if own.fixtures == NONE:
        return {}
    if not isinstance(own.fixtures, Mapping) or not own.fixtures:
        return None
    found = {}
    for kind, count in own.fixtures.items():
        if kind == "rest of house" or not isinstance(count, int):
            return None
        if KINDS[kind].sort == "fixture" and count > 0:
            found[kind] = count
    return found
