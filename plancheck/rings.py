"""How many rings, sleeves and push joints there are on each side of the water, counted as a plan is counted.

Two for a run, one at each end; two for each coupling or ell on it; two for each gap between neighbours of a manifold made
of tube, a ring having as many gaps as ports.
"""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.joinery import RINGS
from plancheck.kinds import PLASTIC
from plancheck.model import NONE, NOT_KNOWN, Bends, ManifoldOwn, Part, Path, Run
from plancheck.record import NamedTuple

SIDES = {"cold": "cold", "hot": "hot", "hot return": "hot return", "mixed": "hot"}
GAUGED = ("copper crimp ring", "clamp ring")


class Count(NamedTuple):
    """Rings on one side: by the way they are made; unsaid: the first key that would tell more, where one is not said."""

    by_word: dict[str, int]
    unsaid: list[Path]

    @property
    def total(self) -> int:
        """All of them."""
        return sum(self.by_word.values())


class Claimed(NamedTuple):
    """Claims that cover the same sides, with what the plan counts on those; key: what would tell more where it is missing."""

    sides: tuple[str, ...]
    claims: tuple[str, ...]
    written: int
    counts: tuple[Count, ...]
    key: Path | None


def claims_on(facts: Facts, counts: dict[str, Count]) -> Iterator[Claimed]:
    """The sides with rings, those told in one claim together; sides that no counted claim covers last."""
    groups: dict[tuple[str, ...], list[str]] = {}
    uncounted: dict[str, Path] = {}
    for claim in facts.plan.claims.values():
        sides = tuple(side for side in counts if isinstance(claim.covers, tuple) and side in claim.covers)
        if isinstance(claim.count_, int) and sides:
            groups.setdefault(sides, []).append(claim.id)
        elif isinstance(claim.count_, int) and not isinstance(claim.covers, tuple):
            uncounted |= dict.fromkeys(
                (side for side in counts if side not in uncounted), ("claims", claim.id, "covers")
            )
        else:
            uncounted |= {side: ("claims", claim.id, "count") for side in sides if side not in uncounted}
    for sides, ids in groups.items():
        written = sum(n for id_ in ids if isinstance(n := facts.plan.claims[id_].count_, int))
        yield Claimed(sides, tuple(ids), written, tuple(counts[side] for side in sides), None)
    covered = {side for sides in groups for side in sides}
    left = [side for side in counts if side not in covered]
    for key in dict.fromkeys(uncounted.get(side, ("claims",)) for side in left):
        sides = tuple(side for side in left if uncounted.get(side, ("claims",)) == key)
        yield Claimed(sides, (), 0, tuple(counts[side] for side in sides), key)


def count_rings(facts: Facts) -> dict[str, Count]:
    """The new joints of each side that has any, in the order cold, hot, hot return."""
    found: dict[str, Count] = {}
    plastic = {id_ for id_, tube in facts.plan.tubes.items() if tube.material in PLASTIC and tube.form != "connector"}
    for run in facts.plan.runs.values():
        side = SIDES.get(facts.carried(run.id).service or "")
        if run.tube in plastic and run.work != "removed" and side is not None:
            _add_run(found.setdefault(side, Count({}, [])), run, facts)
    for part in facts.plan.parts.values():
        if isinstance(part.own, ManifoldOwn) and part.own.tube in plastic and is_new(part):
            side = SIDES.get(_service(part, part.own, facts) or "")
            if side is not None:
                _add(
                    found.setdefault(side, Count({}, [])), part.joint, _gaps(part.own) * 2, ("parts", part.id, "joint")
                )
    return {side: found[side] for side in ("cold", "hot", "hot return") if side in found and any(found[side])}


def _add(count: Count, word: str | None, number: int, path: Path) -> None:
    if word in RINGS:
        count.by_word[word or ""] = count.by_word.get(word or "", 0) + number
    elif word is None or word == NOT_KNOWN:
        count.unsaid.append(path)


def _add_run(count: Count, run: Run, facts: Facts) -> None:
    """Of an old run only what joins it to a new part is new."""
    path: Path = ("runs", run.id, "joint")
    first, last = (run.joint.from_, run.joint.to) if run.joint is not None else (None, None)
    for word, ref in ((first, run.from_), (last, run.to)):
        if ref is not None and (is_new(run) or is_new(facts.plan.parts[ref.part])):
            _add(count, word, 1, path)
    if is_new(run):
        along = [one.is_ for one in run.along or ()]
        fittings = along.count("coupling") + max(along.count("ell"), _ells(run, facts))  # an ell may be told in both
        if fittings:
            _add(count, first, 2 * fittings, path)


def _ells(run: Run, facts: Facts) -> int:
    """The turns that are made by a fitting."""
    bends = run.bends
    if not isinstance(bends, Bends):
        return 0
    if bends.each is not None:
        return sum(1 for bend in bends.each if bend.fitting not in (None, NONE, NOT_KNOWN))
    if bends.all is None or bends.all.fitting in (None, NONE, NOT_KNOWN):
        return 0
    shape = facts.geometry.shapes.get(run.id)
    return len(shape.turns) if shape is not None else bends.count_ if isinstance(bends.count_, int) else 0


def _gaps(own: ManifoldOwn) -> int:
    ports = len(own.ports)
    return ports if own.shape == "ring" and ports > 2 else max(ports - 1, 0)


def _service(part: Part, own: ManifoldOwn, facts: Facts) -> str | None:
    number, services = facts.network.number, facts.traced.services
    found = (services.get(number.get(f"{part.id}/{port}", -1)) for port in own.ports)
    return next((one for one in found if one is not None), None)
