"""Heights above the plan's zero, of more connections than have a position."""

from __future__ import annotations

from plancheck.geometry.trust import SURE, Trust, along, join, made_up, standing
from plancheck.geometry.walker import Miss, Walker
from plancheck.measures import Length
from plancheck.model import Part, Plan, Ref, Run


def _own_height(plan: Plan, part: Part) -> float | None:
    """The height a part says of itself: above the floor of its place."""
    place = plan.places.get(part.place) if part.place is not None else None
    level = place.level if place is not None else None
    if isinstance(level, Length) and isinstance(part.height, Length):
        return level.m + part.height.m
    return None


def find_heights(walker: Walker) -> dict[Ref, float]:
    """Heights alone: from positions, from `height`, and from there along paths, rises and joints of parts."""
    plan = walker.plan
    found = {ref: point[2] for ref, point in walker.points.items()}
    frontier: list[str] = list(dict.fromkeys(ref.part for ref in found))
    for part in plan.parts.values():
        said = _own_height(plan, part)
        if said is None or part.work == "removed":
            continue
        refs = [Ref(part.id, name) for name in walker.connections_of(part.id)]
        if refs[0] in found:
            _compare_height(part, said, found[refs[0]], walker)
            continue
        found.update(dict.fromkeys(refs, said))
        walker.trust[part.id] = standing(part, plan)
        frontier.append(part.id)
    onto = walker.joints()
    for name in frontier:
        for run in walker.runs_at.get(name, ()):
            frontier += _rise(plan, run, found, walker)
        for other in onto.get(name, ()):
            frontier += _made_up(name, other, found, walker)
    return found


def _made_up(part: str, other: str, found: dict[Ref, float], walker: Walker) -> list[str]:
    """The height of a part made up directly to one whose height is known, or the two compared."""
    here, there = walker.joint(part, other)
    upper, lower = walker.plan.parts[part], walker.plan.parts[other]
    if here not in found:
        return []
    trust = join(walker.trust.get(part, SURE), made_up(upper, lower))
    if there not in found:
        walker.checked.add((part, other))
        walker.trust[other] = trust
        return _spread(there, found[here], found, walker)
    if walker.checked.isdisjoint(((part, other), (other, part))):
        walker.checked.add((part, other))
        miss = _height("joint", "", other, found[there], found[here], join(trust, walker.trust.get(other, SURE)))
        walker.compared.append(miss._replace(by=part))
    return []


def _compare_height(part: Part, said: float, walked: float, walker: Walker) -> None:
    run = walker.reached.get(part.id, ("", ""))[0]
    trust = join(walker.trust.get(part.id, SURE), standing(part, walker.plan))
    walker.compared.append(_height("height", run, part.id, said, walked, trust))


def _height(what: str, run: str, part: str, first_m: float, second_m: float, trust: Trust) -> Miss:
    off = second_m - first_m
    least = max(0.0, abs(off) - trust.open_m)
    return Miss(what, run, part, "up", first_m, second_m, abs(off), least, trust.row, trust.about, (0.0, 0.0, off))


def _rise(plan: Plan, run: Run, found: dict[Ref, float], walker: Walker) -> list[str]:
    if run.from_ is None or run.to is None:
        return []
    shape = walker.shapes.get(run.id)
    if shape is not None:
        rise: float | None = shape.vector[2]
    else:
        rise = run.rise.m if isinstance(run.rise, Length) else None
    if rise is None:
        return []
    start, end = found.get(run.from_), found.get(run.to)
    if (start is None and end is None) or run.id in walker.climbed:
        return []
    walker.climbed.add(run.id)
    trust = along(run, shape.about if shape is not None else run.rise.about)  # type: ignore[union-attr]
    if end is None and start is not None:
        return _reach(run, run.to, start + rise, join(walker.trust_at(run.from_, False), trust), found, walker)
    if start is None and end is not None:
        return _reach(run, run.from_, end - rise, join(walker.trust_at(run.to, False), trust), found, walker)
    if start is not None and end is not None and run.id not in walker.walked:
        trust = join(trust, join(walker.trust_at(run.from_, False), walker.trust_at(run.to, False)))
        walker.compared.append(_height("ends", run.id, run.to.part, end, start + rise, trust))
    return []


def _reach(run: Run, ref: Ref, height: float, trust: Trust, found: dict[Ref, float], walker: Walker) -> list[str]:
    walker.trust[ref.part] = trust
    walker.reached[ref.part] = (run.id, ref.connection)
    return _spread(ref, height, found, walker)


def _spread(ref: Ref, height: float, found: dict[Ref, float], walker: Walker) -> list[str]:
    offsets = walker.offsets.get(ref.part, {})
    own = offsets.get(ref.connection, (0.0, 0.0, 0.0))[2]
    for name in walker.connections_of(ref.part):
        found[Ref(ref.part, name)] = height - own + offsets.get(name, (0.0, 0.0, 0.0))[2]
    return [ref.part]
