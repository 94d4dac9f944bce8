"""What a plan holds, counted: tube by name, parts by kind, joints by sort. New work alone. Metres and numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import Bends, Run
from plancheck.record import NamedTuple

FITTINGS = ("fork", "device", "end", "mixing", "manifold")  # sorts of parts that are fittings and valves, not fixtures
_NOT_BOUGHT = frozenset(("expansion tank", "meter", "pump", "filter", "softener"))


class Takeoff(NamedTuple):
    """What a plan's new work is made of. tubes: metres by name of the tube; unsaid: runs whose length is not known."""

    tubes: Mapping[str, float]
    parts: Mapping[str, int]
    joints: Mapping[str, int]
    unsaid: tuple[str, ...]

    @property
    def fittings(self) -> int:
        """Fittings and valves, ells and couplings on runs among them; appliances are none."""
        return sum(count for kind, count in self.parts.items() if kind not in _NOT_BOUGHT)

    @property
    def tube_m(self) -> float:
        """All tube together."""
        return sum(self.tubes.values())


def takeoff(facts: Facts) -> Takeoff:
    """The take-off of a plan."""
    plan = facts.plan
    tubes: dict[str, float] = {}
    parts: dict[str, int] = {}
    joints: dict[str, int] = {}
    unsaid = []
    for part in plan.parts.values():
        if is_new(part) and KINDS[part.is_].sort in FITTINGS:
            parts[part.is_] = parts.get(part.is_, 0) + 1
    for run in plan.runs.values():
        if not is_new(run):
            continue
        length = facts.run_length_m(run.id)
        if length is None:
            unsaid.append(run.id)
        elif run.tube is not None:
            tubes[run.tube] = tubes.get(run.tube, 0.0) + length
        for kind, count in _on(run):
            parts[kind] = parts.get(kind, 0) + count
        for sort, count in _joints(run):
            joints[sort] = joints.get(sort, 0) + count
    return Takeoff(tubes, parts, joints, tuple(unsaid))


def _on(run: Run) -> Iterator[tuple[str, int]]:
    """Couplings and ells on a run."""
    for one in run.along or ():
        if one.is_ in ("coupling", "ell"):
            yield one.is_, 1
    if isinstance(run.bends, Bends):
        ells = sum(bend.fitting is not None for bend in run.bends.each or ())
        if ells:
            yield "ell", ells


def _joints(run: Run) -> Iterator[tuple[str, int]]:
    """The joints at both ends, and two for each coupling and ell."""
    if run.joint is None:
        return
    for word in (run.joint.from_, run.joint.to):
        if word is not None and word != "not known":
            yield word, 1
    between = sum(count for _, count in _on(run))
    if between and run.joint.from_ is not None:
        yield run.joint.from_, 2 * between
