"""What pipe is used for: hot, in the ground, coming in, inside, under a slab; and how far a plastic service comes inside."""

from __future__ import annotations

from plancheck.answers import estimates, is_new, tube_of
from plancheck.facts import Facts
from plancheck.model import Path, Run
from plancheck.passes import FOUNDATION, MASONRY, SLAB, member_of
from plancheck.record import NamedTuple

HOT, GROUND, ENTERS, INSIDE, UNDER_SLAB = "hot", "in the ground", "coming into the house", "inside", "under a slab"
_WARM = ("hot", "hot return", "mixed")
_OUT = ("ground", "outdoors")
_WALLS = frozenset((FOUNDATION, MASONRY, SLAB))


class Inside(NamedTuple):
    """How far a run goes on inside: metres, None where not shown; about: the estimate it rests on; key: what would tell."""

    m: float | None
    about: str = ""
    key: Path = ()


def use_of(run: Run, facts: Facts) -> str:
    """What a run is used for. Where its places are not said, covered pipe counts as lying in the ground."""
    if facts.carried(run.id).service in _WARM:
        return HOT
    kinds = [facts.plan.places[place].is_ for place in facts.run_places(run.id)]
    if "slab" in kinds:
        return UNDER_SLAB
    outside = [kind in _OUT for kind in kinds]
    if (run.places is None and run.cover is not None) or (outside and all(outside)):
        return GROUND
    return ENTERS if any(outside) or _from_source(run, facts) else INSIDE


def _from_source(run: Run, facts: Facts) -> bool:
    return run.from_ is not None and facts.plan.parts[run.from_.part].is_ == "source"


def inside_of(run: Run, facts: Facts) -> Inside:
    """How much of a run lies inside: all of it, or what is left behind the wall or floor through which it comes in."""
    length_m = facts.run_length_m(run.id)
    about = estimates(run.length)
    if use_of(run, facts) == INSIDE:
        return Inside(length_m, about, ("runs", run.id, "length"))
    if not run.places:
        return Inside(None, "", ("runs", run.id, "places"))
    passes = run.passes if isinstance(run.passes, tuple) else ()
    for number, said in enumerate(passes):
        if not _WALLS & set(member_of(said.through or "").kinds):
            continue
        if not isinstance(said.at, tuple) or not said.at:
            return Inside(None, "", ("runs", run.id, "passes", number, "at"))
        if length_m is None:
            return Inside(None, "", ("runs", run.id, "length"))
        last = facts.plan.places.get(run.places[-1])
        if last is None:
            return Inside(None, "", ("runs", run.id, "places"))
        comes_in = last.is_ not in _OUT
        about = ", ".join(filter(None, (about, estimates(*said.at))))
        return Inside(length_m - said.at[-1].m if comes_in else said.at[0].m, about)
    return Inside(None, "", ("runs", run.id, "passes"))


def follows_service(run: Run, facts: Facts) -> bool:
    """Whether the pipe before a run lies in the ground: then the run is the end of the service."""
    before = facts.before(run.id)
    return before is not None and use_of(facts.plan.runs[before], facts) in (GROUND, ENTERS)


def transitions(facts: Facts) -> list[tuple[Run, Run, str]]:
    """(new run, run of polybutylene, part) wherever one is joined to the other by a part between them."""
    at: dict[str, list[Run]] = {}
    for run in facts.plan.runs.values():
        for ref in (run.from_, run.to):
            if ref is not None and run.work != "removed":
                at.setdefault(ref.part, []).append(run)
    found = []
    for part, runs in at.items():
        old = next((run for run in runs if run.work == "existing" and _material(run, facts) == "polybutylene"), None)
        new = next((run for run in runs if _material(run, facts) != "polybutylene" and is_new(run)), None)
        if old is not None and new is not None:
            found.append((new, old, part))
    return found


def _material(run: Run, facts: Facts) -> str | None:
    tube = tube_of(run, facts.plan)
    return tube.material if tube is not None else None
