"""How far along metal it is from a soldered joint to the nearest plastic tube, by the shortest way. Metres."""

from __future__ import annotations

import heapq
from collections.abc import Iterator

from plancheck.answers import estimates, is_new, tube_of
from plancheck.facts import Facts
from plancheck.kinds import KINDS, METAL, PLASTIC
from plancheck.model import ManifoldOwn, Part, Path, Run
from plancheck.record import NamedTuple

FLAME = frozenset(("solder", "braze"))
_STOPS = frozenset(("heater", "fixture", "supply"))  # so much metal or water that no heat goes on


class Near(NamedTuple):
    """Plastic near a joint: how far along metal, the run or manifold it is, whether that is there already.

    about: the estimates on the way; unsaid: the first key on the way that would tell a length, where one is not said
    (then m is the least it can be).
    """

    m: float
    name: str
    old: bool
    about: str = ""
    unsaid: Path | None = None


class _Way(NamedTuple):
    other: str
    m: float
    about: str
    unsaid: Path | None


class Metal:
    """The metal pipe of one plan, and where plastic begins at its ends."""

    def __init__(self, facts: Facts) -> None:
        self.parts = facts.plan.parts
        self.ways: dict[str, list[_Way]] = {}
        self.plastic: dict[str, list[tuple[str, bool]]] = {}
        self.flamed: dict[str, list[str]] = {}  # run -> parts at which it is soldered
        for run in facts.plan.runs.values():
            if run.work != "removed":
                self._take(run, facts)
        for part in self.parts.values():
            if part.work != "removed":
                self._make_up(part, facts)

    def _take(self, run: Run, facts: Facts) -> None:
        tube = tube_of(run, facts.plan)
        if tube is None or run.from_ is None or run.to is None:
            return
        a, b = run.from_.part, run.to.part
        if tube.material in PLASTIC:
            for end in (a, b):
                self.plastic.setdefault(end, []).append((run.id, run.work == "existing"))
        elif tube.material in METAL:
            m = facts.run_length_m(run.id)
            unsaid: Path | None = ("runs", run.id, "length") if m is None else None
            for one, other in ((a, b), (b, a)):
                self.ways.setdefault(one, []).append(_Way(other, m or 0.0, estimates(run.length), unsaid))
            self._mark(run, a, b)

    def _mark(self, run: Run, a: str, b: str) -> None:
        """Notes the soldered ends that are new: of a new run, or of an old one at a new part."""
        if run.joint is None:
            return
        for word, end in ((run.joint.from_, a), (run.joint.to, b)):
            if word in FLAME and (is_new(run) or is_new(self.parts[end])):
                self.flamed.setdefault(run.id, []).append(end)

    def _make_up(self, part: Part, facts: Facts) -> None:
        if part.onto is not None:
            for one, other in ((part.id, part.onto.part), (part.onto.part, part.id)):
                self.ways.setdefault(one, []).append(_Way(other, 0.0, "", None))
        own = part.own
        tube = facts.plan.tubes.get(own.tube) if isinstance(own, ManifoldOwn) and own.tube is not None else None
        if tube is not None and tube.material in PLASTIC:
            self.plastic.setdefault(part.id, []).insert(0, (part.id, part.work == "existing"))

    def nearest(self, start: str) -> Iterator[Near]:
        """The plastic met from a part on, nearest first (E. W. Dijkstra 1959, from memory); unsaid lengths count nothing."""
        heap: list[tuple[float, int, str, str, Path | None]] = [(0.0, 0, start, "", None)]
        seen: set[str] = set()
        count = 0
        while heap:
            m, _, here, about, unsaid = heapq.heappop(heap)
            if here in seen:
                continue
            seen.add(here)
            if self._is_plastic(here):  # what hangs on it is behind the plastic of its own
                name, old = self.plastic[here][0]
                yield Near(m, name, old, about, unsaid)
                continue
            for name, old in self.plastic.get(here, ()):
                yield Near(m, name, old, about, unsaid)
            if KINDS[self.parts[here].is_].sort in _STOPS:
                continue
            for way in self.ways.get(here, ()):
                words = ", ".join(filter(None, (about, way.about)))
                count += 1  # so that nothing else of two ways is ever compared
                heapq.heappush(heap, (m + way.m, count, way.other, words, unsaid or way.unsaid))

    def _is_plastic(self, part: str) -> bool:
        """Whether a part is a manifold made of plastic tube."""
        found = self.plastic.get(part)
        return found is not None and found[0][0] == part
