"""Plastic tube and manifolds beside hot things: where they lie, how thick they are, what the plan declares of them."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.answers import estimates, is_plastic, tube_of
from plancheck.facts import Facts
from plancheck.geometry.apart import Piece, Placed, box_of, parted, pieces_of
from plancheck.geometry.seats import Seat
from plancheck.measures import Length
from plancheck.model import Clear, ManifoldOwn, Part, Path, Point, Ref, Run
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_outside_m

_INCH = 0.0254
_WIDE_M = {"boiler": 1.5, "furnace": 1.5, "stove": 1.5, "motor": 0.6}  # no wider in a house; what is not listed: 1 ft
_THICK_M = 2.125 * _INCH  # tube of nominal 2, the largest
_ROWS = ("north", "south", "east", "west", "up", "down")
_GAP_M = 6 * _INCH  # between ports where no spacing is said


class Tubing(NamedTuple):
    """A plastic run or manifold, and where it lies if that is known.

    places: those it goes through; about: the estimate of where it lies; open_m: how far it may reach where no row is said.
    """

    thing: Run | Part
    path: Path
    line: tuple[Point, ...]
    box: Piece | None
    outside_m: float | None
    tube: str
    places: tuple[str, ...]
    about: str
    open_m: float = 0.0


class Pair(NamedTuple):
    """Plastic tubing and a hot thing, with what the plan declares of them."""

    tubing: Tubing
    seat: Seat
    declared: tuple[Clear, ...]


def tubings_of(facts: Facts) -> list[Tubing]:
    """The plastic runs, then the manifolds made of plastic tube; where they lie only if there is something hot."""
    plan, found = facts.plan, []
    for run in plan.runs.values():
        tube = tube_of(run, plan)
        if tube is not None and run.work != "removed" and is_plastic(tube):
            line = facts.geometry.corners(run) or () if plan.heat else ()
            about = f"the path of {run.id}" if line and facts.geometry.shapes[run.id].about else ""
            box, places = box_of(line) if line else None, facts.run_places(run.id)
            found.append(Tubing(run, ("runs", run.id), line, box, tube_outside_m(tube), run.tube or "", places, about))
    for part in plan.parts.values():
        if isinstance(part.own, ManifoldOwn) and part.work != "removed":
            found.extend(_manifold(part, part.own, facts))
    return found


def _manifold(part: Part, own: ManifoldOwn, facts: Facts) -> Iterator[Tubing]:
    """A manifold made of plastic tube, from its first port to its last; without a row it may reach out either way."""
    tube = facts.plan.tubes.get(own.tube or "")
    if tube is None or not is_plastic(tube):
        return
    points = facts.geometry.points if facts.plan.heat else {}
    line = tuple(points[ref] for ref in (Ref(part.id, port) for port in own.ports) if ref in points)
    gaps = [port.next if isinstance(port.next, Length) else own.spacing for port in own.ports.values()][:-1]
    open_m = 0.0 if own.row in _ROWS else sum(gap.m if isinstance(gap, Length) else _GAP_M for gap in gaps)
    about = estimates(*gaps) or (f"where {part.id} is" if part.at is not None and estimates(*part.at[:3]) else "")
    box, places = box_of(line) if line else None, (part.place,) if part.place is not None else ()
    yield Tubing(part, ("parts", part.id), line, box, tube_outside_m(tube), own.tube or "", places, about, open_m)


def thickness(pair: Pair) -> tuple[float, float, Path]:
    """Half of both diameters, which goes off a distance; how much more it may be where one is not said, and its key."""
    hot, outside_m = pair.seat.hot, pair.tubing.outside_m
    said_m = hot.size.m if isinstance(hot.size, Length) else None
    open_m = (0.0 if said_m is not None else _WIDE_M.get(hot.is_, 0.3)) + (0.0 if outside_m is not None else _THICK_M)
    key: Path = ("heat", hot.id, "size") if said_m is None else ("tubes", pair.tubing.tube, "outside")
    return ((said_m or 0.0) + (outside_m or 0.0)) / 2, open_m / 2, key


def laid_and_fished(tubing: Tubing) -> tuple[list[Placed], list[Placed]]:
    """The straight pieces of the tube: those that lie open, and those drawn through closed framing."""
    pieces, fished = pieces_of(tubing.line), tubing.thing.fished if isinstance(tubing.thing, Run) else None
    if isinstance(fished, tuple):
        return parted(pieces, fished[0].m, fished[1].m)
    return ([], pieces) if fished is True else (pieces, [])
