"""Waters beside each other: a plan puts hot and cold of a fixture at one point, and paper puts one line over another.

So hot is drawn a little to the right and cold to the left of where they stand, each with what belongs to it alone.
"""

from __future__ import annotations

from collections.abc import Mapping

from plancheck.drawing.spots import Spots
from plancheck.facts import Facts
from plancheck.kinds import KINDS

_BESIDE_MM = {"cold": -1.3, "hot": 1.3, "hot return": 3.9}
_SHARED = ("fixture", "heater", "mixing")  # sorts of parts at which waters meet


def beside(spot: tuple[float, float], service: str | None) -> tuple[float, float]:
    """A place on paper as it is drawn for a water."""
    return spot[0] + _BESIDE_MM.get(service or "", 0.0), spot[1]


def apart_of(facts: Facts, spots: Spots) -> Mapping[str, str]:
    """The parts that belong to one water alone, with that water; what is made up onto one of them as well."""
    carried: dict[str, set[str]] = {}
    for one in spots.lines:
        for ref in (one.run.from_, one.run.to):
            if ref is not None:
                carried.setdefault(ref.part, set()).add(facts.carried(one.run.id).service or "")
    found = {
        id_: next(iter(services))
        for id_, services in carried.items()
        if len(services) == 1 and KINDS[facts.plan.parts[id_].is_].sort not in _SHARED
    }
    for _ in range(len(spots.parts)):
        more = {
            part.id: water
            for part in facts.plan.parts.values()
            if (water := _water(part.id, facts, carried, found)) is not None and part.id not in found
        }
        if not more:
            break
        found.update(more)
    return found


def _water(part: str, facts: Facts, carried: Mapping[str, set[str]], found: Mapping[str, str]) -> str | None:
    """The water of a part without runs: that of what it is made up onto, or of what is made up onto it."""
    if part in carried or KINDS[facts.plan.parts[part].is_].sort in _SHARED:
        return None
    onto = facts.plan.parts[part].onto
    if onto is not None and onto.part in found:
        return found[onto.part]
    return next(
        (
            found[other.id]
            for other in facts.plan.parts.values()
            if other.onto is not None and other.onto.part == part and other.id in found
        ),
        None,
    )
