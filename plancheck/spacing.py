"""What a plan states of the supports of a run, and which gaps follow from it. Metres along the run.

Functions raise NotShown, with the key that is missing, where the plan does not say enough.
"""

import math
from collections.abc import Iterator

from plancheck.courses import Course, climb_of, course_of, framing_without_places, nominal_inches
from plancheck.facts import Facts
from plancheck.kinds import PLASTIC
from plancheck.limits import NotShown
from plancheck.measures import Length
from plancheck.model import NONE, NOT_KNOWN, Plan, Run, Supports, Tube
from plancheck.record import NamedTuple
from plancheck.supports import Gap, first_support, guided_gap, held_gap, storey_of

NOTHING = Supports()  # what is said of a run that nothing holds

_TABLED = (PLASTIC - {"PVC", "PE", "polybutylene", "PP"}) | {"copper", "CPVC"}

_WAYS = {  # asked of pipe that lies level, that stands upright
    (True, True): ("level supports", "upright supports"),
    (True, False): ("level supports",),
    (False, True): ("upright supports",),
    (False, False): (),
}
_MORE = {True: ("first supports", "kind of supports"), False: ("first supports",)}


class Hung(NamedTuple):
    """A run that hangs: how it lies (None where its length is not known), the place it ends in.

    inches: the nominal size of its tube, None where it is not known; said: what is said of its supports.
    """

    run: Run
    tube: Tube
    inches: float | None
    course: Course | None
    said: Supports
    place: str | None


class Free(NamedTuple):
    """The worst gap of one way, the points it is measured between, the gap that is stated, what rests on an estimate."""

    gap: Gap
    points: list[float]
    every: Length | None
    estimate: str


def hung_runs(facts: Facts) -> Iterator[Hung]:
    """The runs of copper or plastic that hang: not connectors, removed pipe, or what lies in slab or ground."""
    shapes, heights, plan = facts.geometry.shapes, facts.geometry.heights, facts.plan
    hanging = {tube.id: tube for tube in plan.tubes.values() if tube.material in _TABLED and tube.form != "connector"}
    inches = {name: nominal_inches(tube) for name, tube in hanging.items()}
    for run in plan.runs.values():
        tube = hanging.get(run.tube) if run.tube is not None else None
        if tube is None or run.work == "removed" or type(run.cover) is Length:
            continue
        places = facts.run_places(run.id)
        if _laid(places, plan):
            continue
        shape = shapes.get(run.id)
        course = course_of(run, shape, climb_of(run, heights) if shape is None else None)
        said = run.supports if type(run.supports) is Supports else NOTHING
        yield Hung(run, tube, inches[tube.id], course, said, places[-1] if places else None)


def untabled_runs(facts: Facts) -> Iterator[tuple[Run, Tube]]:
    """New runs that hang, of tube for which no distance is carried."""
    plan = facts.plan
    others = {
        tube.id: tube for tube in plan.tubes.values() if tube.material not in _TABLED and tube.form != "connector"
    }
    for run in plan.runs.values() if others else ():
        tube = others.get(run.tube) if run.tube is not None else None
        if tube is None or run.work in ("existing", "removed") or run.from_ is None or type(run.cover) is Length:
            continue
        if not _laid(facts.run_places(run.id), plan):
            yield run, tube


def _laid(places: tuple[str, ...], plan: Plan) -> bool:
    for name in places:
        place = plan.places.get(name)
        if place is None or place.is_ not in ("slab", "ground"):
            return False
    return bool(places)


def stated(said: Supports, upright: bool) -> Length | None:
    """The largest gap of one way that the plan states, upright as level where it is not said; None where measured."""
    every = said.risers if upright and said.risers is not None else said.every
    return every if type(every) is Length and type(said.at) is not tuple else None


def free(hung: Hung, upright: bool) -> Free:
    """The worst gap of one way. Raises NotShown where neither gaps nor distances are said, or no length."""
    run, said, course = hung.run, hung.said, hung.course
    every = stated(said, upright)
    if every is None and said is not NOTHING and not isinstance(said.at, tuple):
        key = "risers" if upright and said.risers is not None else "every"
        raise NotShown(("runs", run.id, "supports", key), "the largest gap between supports")
    if course is None:
        raise NotShown(("runs", run.id, "length"), "how long the run is")
    gap, points = held_gap(run, course, upright, every.m if every is not None else math.inf)
    return Free(gap, points, every, _estimate(said, every, course))


def _estimate(said: Supports, every: Length | None, course: Course) -> str:
    measured = said.at if isinstance(said.at, tuple) else ()
    return ", ".join(one.text for one in (every, *measured) if one is not None and one.about) or course.estimate


def be_sure(hung: Hung, found: Free, upright: bool, most_m: float) -> None:
    """Raises NotShown where a gap that seems over most_m may be within it: by the order of its parts, or by framing."""
    run, course = hung.run, hung.course
    if found.gap.least_m <= most_m:
        lacks = "rise" if course is not None and not course.split else "path"
        raise NotShown(("runs", run.id, lacks), "which of its gaps are level and which upright")
    framing = framing_without_places(run) if not upright and found.every is None else None
    if framing is not None:
        raise NotShown(("runs", run.id, "passes", framing, "at"), "where the framing is that it goes through")


def unguided(hung: Hung, course: Course, most_m: float) -> Gap | None:
    """The worst upright gap without support or guide, or None where it is at most most_m or guided mid-storey.

    Raises NotShown where nothing is said of guides, or not in which order its parts follow each other.
    """
    run, said, every = hung.run, hung.said, stated(hung.said, True)
    guides = [one.m for one in said.guides] if isinstance(said.guides, tuple) else []
    gap = guided_gap(run, course, guides, every.m if every is not None else math.inf)
    if gap.m <= most_m or said.guides == "mid-storey":
        return None
    if guides and gap.least_m <= most_m:
        raise NotShown(("runs", run.id, "path"), "where its upright parts are")
    if not guides and said.guides != NONE and said is not NOTHING:
        raise NotShown(("runs", run.id, "supports", "guides"), "whether the riser is guided halfway up")
    return gap


def first_distance(hung: Hung, most_m: float) -> tuple[float, float | None, str]:
    """How far the first support is from an end, fitting or corner, where that is, and what of it is an estimate.

    Where only a largest gap is said that is at most most_m, no first support is further off. Raises NotShown.
    """
    run, said, course = hung.run, hung.said, hung.course
    if isinstance(said.at, tuple):
        if course is None:
            raise NotShown(("runs", run.id, "length"), "how long the run is")
        found, where = first_support(run, course)
        return found, where, _estimate(said, None, course)
    for one, enough in ((said.ends, True), (said.every, False)):
        if isinstance(one, Length) and (enough or one.m <= most_m):
            return one.m, None, one.text if one.about else ""
    raise NotShown(("runs", run.id, "supports", "ends"), "how far the first support is from a fitting")


def tall_storey_m(run: Run, course: Course, facts: Facts) -> float:
    """The tallest storey by the floors of the plan that the run stands through; 0 where they do not tell."""
    places = facts.plan.places.values()
    floors = [one.level.m for one in places if isinstance(one.level, Length) and one.is_ != "outdoors"]
    return storey_of(run, course, facts.geometry.heights, floors) or 0.0


def questions(hung: Hung, stub_m: float) -> tuple[str, ...]:
    """What is to be asked of a run, each a few words; nothing of pipe that is no longer than stub_m."""
    run, course, said = hung.run, hung.course, hung.run.supports
    if run.fished is True or run.work == "existing":  # one line for a person on site, not four
        return ("supports",)
    fished = ("the fished stretch",) if type(run.fished) is tuple else ()
    if course is not None and course.level_m + course.upright_m <= stub_m:
        return fished
    if said is None or said == NOT_KNOWN:
        return (*fished, "supports")
    upright = course is not None and course.upright_m > stub_m
    level = course is None or course.level_m > stub_m or not course.upright_m
    more = _MORE[hung.tube.material in PLASTIC] if said != NONE else ()
    return (*fished, *_WAYS[level, upright], *more)
