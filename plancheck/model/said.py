"""How a value of a plan can be missing, and the small things many parts of a plan share.

Three ways a value can be missing stay apart: None is not said, the text "none" says the thing is not there, the text
"not known" says that nobody could tell. A measure is a Length, Size or Quantity of plancheck.measures (SI inside).
"""

from plancheck.measures import Length, Quantity, Size
from plancheck.record import NamedTuple

NONE = "none"
NOT_KNOWN = "not known"

DIRECTIONS = {
    "east": (1, 0, 0),
    "west": (-1, 0, 0),
    "north": (0, 1, 0),
    "south": (0, -1, 0),
    "up": (0, 0, 1),
    "down": (0, 0, -1),
}

Path = tuple[str | int, ...]
Point = tuple[float, float, float]
SaidLength = Length | str | None
SaidSize = Size | str | None
SaidQuantity = Quantity | str | None
SaidFlag = bool | str | None


class Reach(NamedTuple):
    """How one gets at a thing: open, panel (width and height in metres where said), or none."""

    kind: str
    width_m: float | None = None
    height_m: float | None = None


class Ref(NamedTuple):
    """A named end of a part."""

    part: str
    connection: str

    def __str__(self) -> str:
        return f"{self.part}/{self.connection}"


class PathPoint(NamedTuple):
    """A measured point of a path: east, north, up; above: the place whose floor the height counts from (else zero)."""

    east: Length
    north: Length
    up: Length
    above: str | None = None


class Leg(NamedTuple):
    """One straight stretch of a path: how far east, north and up it goes, in metres."""

    east_m: float
    north_m: float
    up_m: float
    about: bool = False
