"""How a run lies, level and upright, and what holds it. Metres along the run, counted from its start."""

import math
from collections.abc import Iterable, Mapping

from plancheck.geometry.shape import Shape, Stretch
from plancheck.measures import Length, Size
from plancheck.model import NONE, NOT_KNOWN, Bend, Bends, Pass, Ref, Run, Supports, Tube
from plancheck.record import NamedTuple

SAME_M = 1e-6  # points nearer than this are one
SLIGHT = math.radians(5)  # a turn of less is no corner: tube sways so far of itself

_INCH = 0.0254
_OUTSIDE_OVER_NAME = 0.125  # of tube in copper sizes, inches
_HOLDING = ("strap both sides", "strap one side", "bend support")
_FRAMING = ("joist", "rafter", "stud", "truss", "beam")


class Course(NamedTuple):
    """How a run lies.

    shape: of its path; without one its level part is taken as one straight and its upright part as another. split: it is
    known how much stands upright. ends: what bounds it, its two ends and those of a stretch drawn through closed framing,
    which is hidden and counts neither as level nor as upright. estimate: what of it is an estimate, in the writer's words.
    """

    stretches: tuple[Stretch, ...]
    length_m: float
    level_m: float
    upright_m: float
    ends: tuple[float, ...]
    shape: Shape | None = None
    split: bool = True
    estimate: str = ""
    hidden: tuple[float, float] | None = None

    @property
    def ordered(self) -> bool:
        """Whether it is known in which order level and upright parts follow each other."""
        return self.shape is not None or (self.split and min(self.upright_m, self.level_m) <= SAME_M)


def course_of(run: Run, shape: Shape | None, climb_m: float | None = None) -> Course | None:
    """How the run lies: by its path, or by its length and what stands upright; None where neither is said.

    climb_m: how far its end is above its start, where the heights of both are known.
    """
    if shape is not None:
        total_m, upright_m = shape.length_m, shape.upright_m
        about = f"the path of {run.id}" if shape.about else ""
        course = Course(shape.stretches, total_m, total_m - upright_m, upright_m, (0.0, total_m), shape, True, about)
    elif isinstance(run.length, Length):
        course = _reckoned(run, run.length, climb_m)
    else:
        return None
    if isinstance(run.fished, tuple):
        return _without(course, run.fished[0].m, run.fished[1].m)
    return course


def _reckoned(run: Run, length: Length, climb_m: float | None) -> Course:
    rise_m = run.rise.m if isinstance(run.rise, Length) else climb_m
    said = run.upright if isinstance(run.upright, Length) else None
    upright_m = min(said.m if said is not None else abs(rise_m or 0.0), length.m)
    level_m = length.m - upright_m
    stretches = (
        Stretch(0.0, level_m, (0.0, 0.0, 0.0), (level_m, 0.0, 0.0), False),
        Stretch(level_m, upright_m, (level_m, 0.0, 0.0), (level_m, 0.0, upright_m), True),
    )
    about = ", ".join(one.text for one in (length, run.rise, said) if isinstance(one, Length) and one.about)
    split = said is not None or rise_m is not None
    return Course(stretches, length.m, level_m, upright_m, (0.0, length.m), None, split, about)


def _without(course: Course, from_m: float, to_m: float) -> Course:
    """The course without what lies between two distances, which become ends of it."""
    low, high = sorted(min(max(0.0, one), course.length_m) for one in (from_m, to_m))
    stretches: list[Stretch] = []
    for one in course.stretches:
        end_m = one.start_m + one.length_m
        for start, end in ((one.start_m, min(end_m, low)), (max(one.start_m, high), end_m)):
            if end - start > SAME_M:
                stretches.append(one._replace(start_m=start, length_m=end - start))
    upright_m = sum(one.length_m for one in stretches if one.upright)
    level_m = sum(one.length_m for one in stretches if not one.upright)
    ends = tuple(in_order(course, (0.0, low, high, course.length_m)))
    return course._replace(
        stretches=tuple(stretches), level_m=level_m, upright_m=upright_m, ends=ends, hidden=(low, high)
    )


def held_at(run: Run, course: Course) -> list[float]:
    """Where a run is held, in order, its ends not among it.

    By corners that are strapped or stand in a rigid bend support, by supports at measured distances, by framing it goes
    through level at measured distances; where only largest gaps are said, by the first support from each end.
    """
    found = held_corners(run, course) + holes(run, course, False)
    said = run.supports
    if isinstance(said, Supports):
        if isinstance(said.at, tuple):
            found += [one.m for one in said.at]
        elif isinstance(said.ends, Length) and course.shape is not None:
            found += [said.ends.m, course.length_m - said.ends.m]
    return in_order(course, found)


def in_order(course: Course, points: Iterable[float]) -> list[float]:
    """Points on the course in order, each once."""
    found: list[float] = []
    for point in sorted(points):
        if -SAME_M <= point <= course.length_m + SAME_M and (not found or point - found[-1] > SAME_M):
            found.append(point)
    return found


def bend_at(run: Run, number: int) -> Bend | None:
    """How the turn of that number, counted from 1, is made; None where the plan does not say."""
    bends = run.bends
    if not isinstance(bends, Bends):
        return None
    if bends.each is not None:
        return bends.each[number - 1] if number <= len(bends.each) else None
    return bends.all


def held_corners(run: Run, course: Course) -> list[float]:
    """Corners that a strap or a rigid bend support holds."""
    if course.shape is None or not isinstance(run.bends, Bends):
        return []
    made = ((turn.at_m, bend_at(run, turn.number)) for turn in course.shape.turns)
    return [at_m for at_m, bend in made if bend is not None and bend.support in _HOLDING]


def fittings_along(run: Run, course: Course) -> list[float]:
    """Where couplings and ells are along a run."""
    found = [one.at.m for one in run.along or () if one.is_ in ("coupling", "ell") and isinstance(one.at, Length)]
    if course.shape is not None and isinstance(run.bends, Bends):
        made = ((turn.at_m, bend_at(run, turn.number)) for turn in course.shape.turns)
        found += [at_m for at_m, bend in made if bend is not None and bend.fitting not in (None, NONE, NOT_KNOWN)]
    return found


def holes(run: Run, course: Course, upright: bool) -> list[float]:
    """Where it goes through framing, plates or walls at measured distances, on its level or on its upright parts."""
    found: list[float] = []
    for one in _passes(run):
        for at in one.at if isinstance(one.at, tuple) else ():
            on = (part for part in course.stretches if part.start_m <= at.m <= part.start_m + part.length_m)
            found += [at.m] if any(part.upright == upright for part in on) else []
    return found


def framing_without_places(run: Run) -> int | None:
    """The first entry of the passes with joists, studs and the like at distances nobody says; None where there is none."""
    for entry, one in enumerate(_passes(run)):
        if not isinstance(one.at, tuple) and any(word in (one.through or "") for word in _FRAMING):
            return entry
    return None


def _passes(run: Run) -> tuple[Pass, ...]:
    return run.passes if isinstance(run.passes, tuple) else ()


def nominal_inches(tube: Tube) -> float | None:
    """The nominal size by which the tables of supports go, inches; metric tube by its outside diameter; None if unknown.

    16 mm goes as 1/2, 20 mm as 5/8, 25, 28 and 32 mm as 1 in at most, 35 mm as 1-1/4; DN20 is 3/4 (ISO 6708).
    """
    size = tube.size
    if isinstance(size, Size):
        return size.rank - (_OUTSIDE_OVER_NAME if size.metric and size.name.endswith("mm") else 0.0)
    return tube.outside.m / _INCH - _OUTSIDE_OVER_NAME if isinstance(tube.outside, Length) else None


def climb_of(run: Run, heights: Mapping[Ref, float]) -> float | None:
    """How far the end of a run is above its start, metres; None where the height of either is not known."""
    if run.from_ is None or run.to is None:
        return None
    start_m, end_m = heights.get(run.from_), heights.get(run.to)
    return end_m - start_m if start_m is not None and end_m is not None else None
