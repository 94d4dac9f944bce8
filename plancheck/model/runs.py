"""A run of pipe or tube with everything said of it, and the hot things it must keep away from."""

from collections.abc import Mapping

from plancheck.measures import Length
from plancheck.model.said import Leg, PathPoint, Ref, SaidFlag, SaidLength, SaidSize
from plancheck.record import NamedTuple


class Bend(NamedTuple):
    """How a turn is made."""

    radius: SaidLength = None
    support: str | None = None
    fitting: str | None = None
    against: SaidFlag = None
    hot: SaidFlag = None


class Bends(NamedTuple):
    """The turns of a run: how all are made (each None), or each; count where there is no path."""

    all: Bend | None = None
    each: tuple[Bend, ...] | None = None
    count_: int | str | None = None


class Supports(NamedTuple):
    """What holds a run: largest gaps, or measured distances from its start."""

    kind: str | None = None
    every: SaidLength = None
    risers: SaidLength = None
    ends: SaidLength = None
    at: tuple[Length, ...] | str | None = None
    guides: tuple[Length, ...] | str | None = None


class Joints(NamedTuple):
    """How the two ends of a run are joined."""

    from_: str | None = None
    to: str | None = None


class Along(NamedTuple):
    """Something in line on a run: coupling, ell, kink or label, at a distance from its start."""

    is_: str
    at: SaidLength = None
    hidden: SaidFlag = None
    says: str | None = None


class Pass(NamedTuple):
    """Framing, a wall or a slab that a run goes through."""

    through: str | None = None
    count_: int | str | None = None
    at: tuple[Length, ...] | str | None = None
    hole: SaidLength = None
    edge: SaidLength = None
    plate: SaidFlag = None
    grommet: SaidFlag = None
    sleeve: SaidSize | bool = None
    sealed: SaidFlag = None
    bearing: SaidFlag = None
    notch: SaidLength = None
    span: str | None = None
    doubled: SaidFlag = None
    open: SaidFlag = None
    rated: str | None = None


class Clear(NamedTuple):
    """A declared distance to a hot thing: side is beside or above."""

    distance: Length
    side: str


class Run(NamedTuple):
    """One length of one tube between two connections (None only for removed pipe)."""

    id: str
    from_: Ref | None = None
    to: Ref | None = None
    tube: str | None = None
    work: str | None = None
    path: tuple[Leg | PathPoint, ...] | None = None
    length: SaidLength = None
    rise: SaidLength = None
    upright: SaidLength = None
    bends: Bends | str | None = None
    supports: Supports | str | None = None
    joint: Joints | None = None
    along: tuple[Along, ...] | None = None
    passes: tuple[Pass, ...] | str | None = None
    places: tuple[str, ...] | None = None
    bundle: str | None = None
    clear: Mapping[str, tuple[Clear, ...]] | None = None
    fished: bool | tuple[Length, Length] | str | None = None
    cover: SaidLength = None
    carries: str | None = None
    insulation: str | None = None
    guard: str | None = None
    wrap: str | None = None
    tie: str | None = None
    solder: str | None = None
    tracer: str | None = None
    label: str | None = None
    mirrored: str | None = None


class Hot(NamedTuple):
    """A hot thing that tube must keep away from."""

    id: str
    is_: str
    size: SaidLength = None
    place: str | None = None
    at: PathPoint | None = None
    path: tuple[Leg | PathPoint, ...] | None = None
    insulation_contact: SaidFlag = None
    name: str | None = None

    @property
    def title(self) -> str:
        """The name people use."""
        return self.name or self.id.replace("-", " ")
