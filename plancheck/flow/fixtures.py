"""Fixtures as openings to the air: each side alone, and both through a mixing valve. All are shut until asked for."""

from plancheck.facts import Facts
from plancheck.flow.house import AIR, M_PER_PA, Drawing, Fixture, Missing, Piece
from plancheck.flow.levels import Levels
from plancheck.flow.openings import MIXER, MIXES, opening_of
from plancheck.hydraulics.plain import OneWay, Outlet
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import Part, Ref

EVEN = 0.6  # share of hot in a mixing valve before it is trimmed


def add_fixtures(drawing: Drawing, facts: Facts, levels: Levels) -> dict[str, Fixture]:
    """The fixtures of a plan that are not cut out, by part."""
    found = {}
    for part in facts.plan.parts.values():
        if KINDS[part.is_].sort == "fixture" and part.work != "removed":
            found[part.id] = _fixture(drawing, facts, levels, part)
    return found


def _fixture(drawing: Drawing, facts: Facts, levels: Levels, part: Part) -> Fixture:
    sides = {}
    opening = opening_of(part)
    low_m, missing = _height(facts, levels, part)
    out_m = _outlet_m(facts, part, low_m)
    traced = facts.network
    for side in KINDS[part.is_].connections:
        name = f"{part.id}/{side}"
        if not traced.touching[traced.number[name]][1:] and part.onto is None:
            continue  # nothing leads there
        law = Outlet(opening.r_pa * M_PER_PA, opening.most_m3s)
        drawing.heads[f"{AIR} {name}"] = low_m
        drawing.add(name, name, f"{AIR} {name}", law, Piece("opening", part.id))
        drawing.closed.add(name)
        sides[side] = name
    mixed = (
        _mixed(drawing, part, opening.r_pa, opening.most_m3s, out_m) if part.is_ in MIXES and len(sides) == 2 else ()
    )
    return Fixture(part.id, part.is_, sides, mixed, opening, out_m, missing)


def _mixed(drawing: Drawing, part: Part, r_pa: float, most_m3s: float, out_m: float) -> tuple[str, ...]:
    """The edges of a mixing valve and what it feeds: hot, cold, out."""
    hot, cold, out = (f"{part.id}:{name}" for name in ("hot", "cold", "out"))
    middle, air = f"{part.id}:mixed", f"{AIR} {part.id}"
    laws = {hot: mixing_law(EVEN), cold: mixing_law(1.0 - EVEN)}
    for name, side in ((hot, "hot"), (cold, "cold")):
        drawing.add(name, f"{part.id}/{side}", middle, laws[name], Piece("mixing", part.id))
    drawing.heads[air] = out_m
    drawing.add(out, middle, air, Outlet(r_pa * M_PER_PA, most_m3s), Piece("opening", part.id))
    drawing.closed.update((hot, cold, out))
    return hot, cold, out


def mixing_law(share: float) -> OneWay:
    """One side of a fixture's mixing valve that stands open by a share."""
    return OneWay(MIXER.r_pa * M_PER_PA / max(share, 1e-3) ** 2)


def _height(facts: Facts, levels: Levels, part: Part) -> tuple[float, Missing | None]:
    """The height of a fixture's supply, or nought and what is missing."""
    for side in KINDS[part.is_].connections:
        found = levels.of(Ref(part.id, side))
        if found is not None:
            return found, None
    place = facts.plan.places.get(part.place) if part.place is not None else None
    if part.place is None:
        return 0.0, Missing(("parts", part.id, "place"), "the place it is in, and its height there")
    if place is not None and not isinstance(place.level, Length):
        return 0.0, Missing(("places", place.id, "level"), "how high its floor lies")
    return 0.0, Missing(("parts", part.id, "height"), "how high its stub-outs stand above the floor")


def _outlet_m(facts: Facts, part: Part, low_m: float) -> float:
    place = facts.plan.places.get(part.place) if part.place is not None else None
    if isinstance(part.outlet, Length) and place is not None and isinstance(place.level, Length):
        return place.level.m + part.outlet.m
    return low_m
