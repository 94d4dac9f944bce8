"""Where the hot things of a plan are, in the house frame."""

from collections.abc import Mapping

from plancheck.geometry.apart import Piece, Placed, box_of, pieces_of
from plancheck.geometry.shape import point_of, shape_of_path
from plancheck.measures import Length
from plancheck.model import Hot, Path, PathPoint, Place, Point
from plancheck.record import NamedTuple

VENTS = ("flue", "single-wall vent", "double-wall vent")


class Seat(NamedTuple):
    """A hot thing: its path or its point as straight pieces, and the box about them, None where nothing says where it
    is; about: the estimate it rests on, in words; needs: the key that would say where it is."""

    hot: Hot
    pieces: tuple[Placed, ...]
    box: Piece | None
    about: str
    needs: Path


def seat_of(hot: Hot, places: Mapping[str, Place]) -> Seat:
    """Where a hot thing is: along its path, else at its point."""
    start = point_of(hot.at, places) if hot.at is not None else None
    line: tuple[Point, ...] = (start,) if start is not None else ()
    about = hot.size.text if isinstance(hot.size, Length) and hot.size.about else ""
    if hot.at is not None and (hot.at.east.about or hot.at.north.about or hot.at.up.about):
        about = about or f"where {hot.id} is"
    shape = shape_of_path(hot.path, places, start) if hot.path else None
    if shape is not None and shape.origin is not None:
        at = shape.origin
        line = tuple((at[0] + corner[0], at[1] + corner[1], at[2] + corner[2]) for corner in shape.corners)
        about = about or (f"the path of {hot.id}" if shape.about else "")
    if not line:
        return Seat(hot, (), None, about, _needs(hot, places))
    return Seat(hot, tuple(pieces_of(line)), box_of(line), about, _needs(hot, places))


def _needs(hot: Hot, places: Mapping[str, Place]) -> Path:
    said = [one for one in (hot.at, *(hot.path or ())) if isinstance(one, PathPoint) and one.above is not None]
    for point in said:
        if point_of(point, places) is None:
            return ("places", str(point.above), "level")
    return ("heat", hot.id, "path" if hot.is_ in VENTS and not hot.path else "at")
