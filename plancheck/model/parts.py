"""A part: a thing with connections."""

from collections.abc import Mapping

from plancheck.measures import Size
from plancheck.model.owned import Own
from plancheck.model.said import PathPoint, Reach, Ref, SaidFlag, SaidLength, SaidSize
from plancheck.record import NamedTuple


class Part(NamedTuple):
    """A thing with connections. at: east, north, up in metres, each None where not said; own: what its kind adds."""

    id: str
    is_: str
    own: Own = None
    place: str | None = None
    at: PathPoint | str | None = None
    height: SaidLength = None
    outlet: SaidLength = None
    work: str | None = None
    onto: Ref | None = None
    size: SaidSize | tuple[Size, ...] = None
    joint: str | None = None
    reach: Reach | str | None = None
    body: str | None = None
    ends: str | Mapping[str, str] | None = None
    hidden: SaidFlag = None
    anchor: str | None = None
    label: str | None = None
    name: str | None = None
