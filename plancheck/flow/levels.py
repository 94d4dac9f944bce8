"""Heights of connections for the pressures: those of the plan, and from the gauge along rises where nothing ties to a floor."""

from collections.abc import Mapping

from plancheck.geometry import Geometry
from plancheck.measures import Length
from plancheck.model import Plan, Ref


class Levels:
    """Heights above one zero, m. gauge_m: that of the gauge; of(ref): that of a connection, None where nothing tells.

    is_tied: whether the gauge's height and the plan's belong together; where the plan tells no height at all, they do.
    """

    def __init__(self, plan: Plan, geometry: Geometry, gauge: Ref) -> None:
        self._found: dict[Ref, float] = dict(geometry.heights)
        self.is_tied = True
        if gauge not in self._found:
            added, met = _from_gauge(plan, geometry, gauge)
            self._found.update(added)
            self.is_tied = met or not geometry.heights
        self.gauge_m = self._found.get(gauge, 0.0)

    def of(self, ref: Ref) -> float | None:
        """The height of a connection."""
        return self._found.get(ref)


def _from_gauge(plan: Plan, geometry: Geometry, gauge: Ref) -> tuple[dict[Ref, float], bool]:
    """Heights along runs and made-up parts from the gauge on, as nought, tied to the plan's zero where they meet it.

    And whether they meet it.
    """
    by_part = _steps(plan, geometry)
    found = {gauge.part: 0.0}
    stack = [gauge.part]
    for part in stack:  # grows while it is walked
        for other, rise in by_part.get(part, ()):
            if other not in found:
                found[other] = found[part] + rise
                stack.append(other)
    known = {ref.part: height for ref, height in reversed(list(geometry.heights.items()))}
    shift = next((known[part] - height for part, height in found.items() if part in known), None)
    added = {
        Ref(part, name): height + (shift or 0.0)
        for part, height in found.items()
        if part not in known
        for name in _connections(plan, part)
    }
    return added, shift is not None


def _steps(plan: Plan, geometry: Geometry) -> Mapping[str, list[tuple[str, float]]]:
    found: dict[str, list[tuple[str, float]]] = {}

    def both(a: str, b: str, rise: float) -> None:
        found.setdefault(a, []).append((b, rise))
        found.setdefault(b, []).append((a, -rise))

    for part in plan.parts.values():
        if part.onto is not None and part.work != "removed":
            both(part.onto.part, part.id, 0.0)
    for run in plan.runs.values():
        if run.from_ is None or run.to is None or run.work == "removed":
            continue
        shape = geometry.shapes.get(run.id)
        if shape is not None:
            both(run.from_.part, run.to.part, shape.vector[2])
        elif isinstance(run.rise, Length):
            both(run.from_.part, run.to.part, run.rise.m)
    return found


def _connections(plan: Plan, part: str) -> tuple[str, ...]:
    from plancheck.building.refs import connections

    return tuple(connections(plan.parts[part]))
