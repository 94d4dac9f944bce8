"""Sections of a plan that are neither parts nor runs: job, code, water, places, tubes, tests, claims, readings."""

from collections.abc import Mapping

from plancheck.model.said import SaidFlag, SaidLength, SaidQuantity, SaidSize
from plancheck.record import NamedTuple


class Job(NamedTuple):
    """Title, stage and who and when."""

    title: str | None = None
    stage: str | None = None
    by: str | None = None
    date: str | None = None
    electrode: str | None = None


class Code(NamedTuple):
    """The code family the job is built under (irc, ipc, upc) and its edition (a year)."""

    family: str | None = None
    edition: int | str | None = None


class Permit(NamedTuple):
    """What the permit says: its number, the fixtures on it by kind, the fixture units on it."""

    number: str | None = None
    fixtures: Mapping[str, int | str] | str | None = None
    units: Mapping[str, float | str] | str | None = None


class Flowing(NamedTuple):
    """A pressure read while a measured flow runs."""

    pressure: SaidQuantity = None
    flow: SaidQuantity = None


class Water(NamedTuple):
    """The supply as read with a gauge: at which part, standing and flowing, and the coldest water of the year."""

    gauge: str | None = None
    static: SaidQuantity = None
    flowing: Flowing | str | None = None
    coldest: SaidQuantity = None
    date: str | None = None


class Place(NamedTuple):
    """A room or area. level: its floor above the plan's zero."""

    id: str
    is_: str = "room"
    level: SaidLength = None
    name: str | None = None
    freezes: SaidFlag = None
    frost: SaidLength = None
    floor: str | None = None

    @property
    def title(self) -> str:
        """The name people use."""
        return self.name or self.id.replace("-", " ")


class Sun(NamedTuple):
    """First and last day a tube lay in daylight; no end: still there."""

    from_: str | None = None
    to: str | None = None


class Tube(NamedTuple):
    """A stock item used by many runs."""

    id: str
    material: str | None = None
    type: str | None = None
    size: SaidSize = None
    colour: str | None = None
    print: tuple[str, ...] | str | None = None
    sun: Sun | str | None = None
    form: str | None = None
    outside: SaidLength = None
    wall: SaidLength = None


class PressureTest(NamedTuple):
    """A pressure test as recorded."""

    id: str
    covers: tuple[str, ...] | str | None = None
    medium: str | None = None
    start: SaidQuantity = None
    end: SaidQuantity = None
    held: SaidQuantity = None
    isolated: tuple[str, ...] | str | None = None
    date: str | None = None
    by: str | None = None
    air_allowed: str | None = None


class Claim(NamedTuple):
    """What somebody says he saw."""

    id: str
    says: str | None = None
    covers: tuple[str, ...] | str | None = None
    by: str | None = None
    date: str | None = None
    photo: str | None = None
    count_: int | str | None = None


class Reading(NamedTuple):
    """A gauge reading after the work."""

    id: str
    at: str | None = None
    reads: SaidQuantity = None
    open: tuple[str, ...] | str | None = None
    date: str | None = None
    by: str | None = None
    says: str | None = None


class Materials(NamedTuple):
    """A list of material as somebody wrote it: tube by name, parts by kind, joints by sort."""

    tubes: Mapping[str, SaidLength] = {}
    parts: Mapping[str, int | str] = {}
    joints: Mapping[str, int | str] = {}


class Waiver(NamedTuple):
    """One accepted finding. authority: who takes it on itself, which a hazard needs."""

    rule: str | None = None
    at: str | None = None
    because: str | None = None
    by: str | None = None
    until: str | None = None
    authority: str | None = None
