"""Where one stands in the house when one looks at a thing: service entry, heater, manifolds, then place by place."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import Path

ENTRY, HEATER, MANIFOLDS, HOUSE = "Service entry", "Heater", "Manifolds", "The whole house"


class Stations:
    """Tells the station of a subject, and in which order stations are walked."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._trunk: frozenset[str] | None = None

    def of(self, path: Path, place: str | None) -> str:
        """The station of the thing at the path, which stands in the place (an id) if it is said."""
        section, id_ = (*map(str, path[:2]), "", "")[:2]
        parts, runs = self.facts.plan.parts, self.facts.plan.runs
        if section == "water":
            return ENTRY
        if section == "parts" and id_ in parts:
            return self._part(id_, place)
        if section == "runs" and id_ in runs:
            return self._run(id_, place)
        return self._place(place)

    def order(self) -> tuple[str, ...]:
        """All stations in the order one walks them."""
        places = (place.title for place in self.facts.plan.places.values())
        return tuple(dict.fromkeys((ENTRY, HEATER, MANIFOLDS, *(_capital(title) for title in places), HOUSE)))

    def _part(self, id_: str, place: str | None) -> str:
        part = self.facts.plan.parts[id_]
        if part.is_ == "manifold":
            return MANIFOLDS
        if part.is_ in ("water heater", "expansion tank"):
            return HEATER
        return ENTRY if id_ in self.trunk() else self._place(place or part.place)

    def _run(self, id_: str, place: str | None) -> str:
        run = self.facts.plan.runs[id_]
        ends = [self.facts.plan.parts[ref.part] for ref in (run.from_, run.to) if ref is not None]
        if any(part.is_ == "water heater" for part in ends):
            return HEATER
        if ends and all(part.id in self.trunk() or part.is_ == "manifold" for part in ends):
            return ENTRY if any(part.id in self.trunk() for part in ends) else MANIFOLDS
        return self._place(place or next((part.place for part in reversed(ends) if part.place is not None), None))

    def _place(self, place: str | None) -> str:
        return _capital(self.facts.place_name(place)) or HOUSE

    def trunk(self) -> frozenset[str]:
        """The parts that all water passes on its way in, and what is made up onto them."""
        if self._trunk is None:
            self._trunk = self._find_trunk()
        return self._trunk

    def _find_trunk(self) -> frozenset[str]:
        facts = self.facts
        zones, graph = facts.zones, facts.network
        taps = [tap for tap in graph.outlets.values() if tap in zones.entered]
        found = {part.id for part in facts.plan.parts.values() if part.is_ == "source"}
        for part in facts.plan.parts.values():
            inside = graph.number.get(part.id)
            if inside is None or not taps or part.is_ in ("manifold", "water heater"):
                continue
            if all(zones.shuts(inside, tap) for tap in taps):
                found.add(part.id)
        for _ in range(3):  # a gauge port on a tee on the main: a few parts deep
            for part in facts.plan.parts.values():
                if part.onto is not None and part.onto.part in found and part.is_ in ("test port", "cap", "arrestor"):
                    found.add(part.id)
        return frozenset(found)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
