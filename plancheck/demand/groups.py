"""What fixtures of one room save by counting as a group: never a group and its members both."""

from functools import lru_cache

from plancheck.demand.weights import FLUSH_VALVE, GROUPS, ROLE_OF, ROLES, TANK, WEIGHTS
from plancheck.record import NamedTuple

Triple = tuple[int, int, int]  # cold, hot, total in thousandths of a fixture unit
NOTHING: Triple = (0, 0, 0)
COMPLETE, COLD_ONLY, HOT_ONLY = 0, 1, 2
STATES = 3


class _Saving(NamedTuple):
    roles: tuple[int, ...]
    less: Triple


def thousandths(*units: float) -> tuple[int, ...]:
    """Fixture units as whole thousandths, so that sums are exact."""
    return tuple(round(one * 1000) for one in units)


def _savings(family: str) -> tuple[_Saving, ...]:
    found = []
    for group in GROUPS[family]:
        rows = [next(row for row in WEIGHTS[family] if ROLE_OF.get(row) == role) for role in group.roles]
        parts = [thousandths(*WEIGHTS[family][row][:3]) for row in rows]
        whole = thousandths(*group.weight[:3])
        cold, hot, total = (whole[column] - sum(part[column] for part in parts) for column in range(3))
        found.append(_Saving(tuple(ROLES.index(role) for role in group.roles), (cold, hot, total)))
    return tuple(found)


_DISHWASHER = ROLES.index("dishwasher")
_TOILETS = (ROLES.index(TANK), ROLES.index(FLUSH_VALVE))
_TWO_SIDED = tuple(role for role in range(len(ROLES)) if role not in (_DISHWASHER, *_TOILETS))
_SAVINGS = {family: _savings(family) for family in GROUPS}


def role_of(row: str | None, family: str | None) -> int | None:
    """What a row is in the groups of a family (a place in ROLES); None where it belongs to none."""
    role = ROLE_OF.get(row or "")
    if role is None or family is None or not any(role in group.roles for group in GROUPS[family]):
        return None
    return ROLES.index(role)


@lru_cache(maxsize=4096)
def saving(family: str, counts: tuple[int, ...]) -> Triple:
    """What the groups of one room take off the sum of its fixtures (mostly negative thousandths: cold, hot, total).

    counts: for each role how many with all their sides on the pipe, with the cold side only, with the hot side only.
    A pipe of one water alone takes the groups' figure for that water.
    """
    complete, cold, hot = counts[COMPLETE::STATES], counts[COLD_ONLY::STATES], counts[HOT_ONLY::STATES]
    one_water = not any(complete[role] for role in _TWO_SIDED)
    if one_water and any(cold) and not any(hot) and not complete[_DISHWASHER]:
        less = _formed(family, [a + b for a, b in zip(complete, cold, strict=True)])
        return (less[0], 0, less[0])
    if one_water and any(hot) and not any(cold) and not any(complete[role] for role in _TOILETS):
        less = _formed(family, [a + b for a, b in zip(complete, hot, strict=True)])
        return (0, less[1], less[1])
    return _formed(family, list(complete))


def _formed(family: str, left: list[int]) -> Triple:
    cold = hot = total = 0
    for roles, less in _SAVINGS[family]:
        formed = min(left[role] for role in roles)
        for role in roles:
            left[role] -= formed
        cold, hot, total = cold + formed * less[0], hot + formed * less[1], total + formed * less[2]
    return cold, hot, total
