"""Metal pipe as a way for current: what of it hangs together, what leads into the earth, what new plastic cuts off. Metres."""

from __future__ import annotations

from plancheck.answers import estimates, is_new, tube_of
from plancheck.facts import Facts
from plancheck.kinds import KINDS, METAL, PLASTIC
from plancheck.model import Part, Run
from plancheck.record import NamedTuple

_NOT_THROUGH = frozenset(("fixture", "supply"))


class Piece(NamedTuple):
    """Metal pipe that hangs together. runs: the old ones of it; length_m: theirs, None where one is not measured; cut: new
    plastic or a dielectric union ends it; earth: it leads to the source."""

    runs: tuple[str, ...]
    length_m: float | None
    cut: bool
    earth: bool


def is_metal(run: Run, facts: Facts) -> bool:
    """Whether a run is of metal pipe; a ready-made connector is none."""
    tube = tube_of(run, facts.plan)
    return tube is not None and tube.material in METAL and tube.form != "connector"


def is_new_plastic(run: Run, facts: Facts) -> bool:
    """Whether a run is new and of plastic."""
    tube = tube_of(run, facts.plan)
    return tube is not None and tube.material in PLASTIC and is_new(run)


def parts_metal(part: Part) -> bool:
    """Whether no current passes a part: a dielectric union, or a body of plastic."""
    return getattr(part.own, "kind", None) == "dielectric union" or part.body == "plastic"


def services(facts: Facts) -> list[Run]:
    """The runs that come straight from the source."""
    found = (run for run in facts.plan.runs.values() if run.work != "removed" and run.from_ is not None)
    return [run for run in found if run.from_ is not None and facts.plan.parts[run.from_.part].is_ == "source"]


def pieces(facts: Facts) -> list[Piece]:
    """The old metal pipe of the plan, in pieces that hang together."""
    pipes = _Pipes(facts)
    seen: set[str] = set()
    found = []
    for run in facts.plan.runs.values():
        if run.work == "existing" and run.id not in seen and is_metal(run, facts):
            found.append(pipes.piece(run, seen))
    return found


class _Pipes:
    """The runs of a plan by the parts at which they end, and the parts made up onto one another."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.at = _runs_at(facts)
        self.onto = _made_up(facts)

    def piece(self, start: Run, seen: set[str]) -> Piece:
        """All metal that hangs on a run through parts that let current pass; its runs are added to those seen."""
        todo, mine, been = [start], [], set[str]()
        cut = earth = False
        seen.add(start.id)
        while todo:
            run = todo.pop()
            mine.append(run)
            for part in self._joined(run, been):
                earth = earth or part.is_ == "source"
                here = self.at.get(part.id, [])
                cut = cut or parts_metal(part) or any(is_new_plastic(one, self.facts) for one in here)
                more = [] if _stops(part) else [r for r in here if r.id not in seen and is_metal(r, self.facts)]
                seen.update(one.id for one in more)
                todo += more
        old = [run for run in mine if run.work == "existing"]
        lengths = [None if estimates(run.length) else self.facts.run_length_m(run.id) for run in old]
        total = sum(one for one in lengths if one is not None) if None not in lengths else None
        return Piece(tuple(run.id for run in old), total, cut, earth)

    def _joined(self, run: Run, been: set[str]) -> list[Part]:
        """The parts at the ends of a run, and those made up onto them as far as current passes; each once."""
        todo = [ref.part for ref in (run.from_, run.to) if ref is not None]
        found = []
        while todo:
            id_ = todo.pop()
            if id_ in been:
                continue
            been.add(id_)
            part = self.facts.plan.parts[id_]
            found.append(part)
            if not _stops(part):
                todo += self.onto.get(id_, [])
        return found


def _stops(part: Part) -> bool:
    return parts_metal(part) or KINDS[part.is_].sort in _NOT_THROUGH


def _runs_at(facts: Facts) -> dict[str, list[Run]]:
    """For each part the runs that end there."""
    at: dict[str, list[Run]] = {}
    for run in facts.plan.runs.values():
        for ref in (run.from_, run.to):
            if ref is not None and run.work != "removed":
                at.setdefault(ref.part, []).append(run)
    return at


def _made_up(facts: Facts) -> dict[str, list[str]]:
    onto: dict[str, list[str]] = {}
    for part in facts.plan.parts.values():
        if part.onto is not None and part.work != "removed":
            onto.setdefault(part.id, []).append(part.onto.part)
            onto.setdefault(part.onto.part, []).append(part.id)
    return onto


def metal_inside_m(facts: Facts) -> tuple[float, str] | None:
    """From where a metal service ends along metal to the first new plastic: metres and the plastic; None where there is
    no such way, or a length on it is not said."""
    service = next((run for run in services(facts) if is_metal(run, facts) and run.to is not None), None)
    if service is None or service.to is None:
        return None
    at, onto = _runs_at(facts), _made_up(facts)
    best: dict[str, float] = {}
    todo = [(0.0, service.to.part)]
    nearest: tuple[float, str] | None = None
    while todo:
        m, id_ = todo.pop()
        if best.get(id_, m + 1) <= m or KINDS[facts.plan.parts[id_].is_].sort in _NOT_THROUGH:
            continue
        best[id_] = m
        todo += [(m, other) for other in onto.get(id_, [])]
        for run in at.get(id_, []):
            length_m = facts.run_length_m(run.id)
            if is_new_plastic(run, facts):
                nearest = (m, run.id) if nearest is None or m < nearest[0] else nearest
            elif run.id != service.id and is_metal(run, facts) and length_m is not None:
                todo += [(m + length_m, ref.part) for ref in (run.from_, run.to) if ref is not None and ref.part != id_]
    return nearest
