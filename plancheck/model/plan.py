"""The whole plan."""

from collections.abc import Mapping

from plancheck.model.parts import Part
from plancheck.model.records import (
    Claim,
    Code,
    Job,
    Materials,
    Permit,
    Place,
    PressureTest,
    Reading,
    Tube,
    Waiver,
    Water,
)
from plancheck.model.runs import Hot, Run
from plancheck.model.said import Path
from plancheck.record import NamedTuple


class Layer(NamedTuple):
    """One place a thing's keys may stand: its own entry, the one it is like, or the defaults."""

    data: Mapping[str, object]
    path: Path
    note: str


class Plan(NamedTuple):
    """A whole plan. layers tells for (section, id) where its keys may stand, in the order they count."""

    job: Job
    code: Code
    permit: Permit | None
    water: Water
    places: Mapping[str, Place]
    tubes: Mapping[str, Tube]
    parts: Mapping[str, Part]
    heat: Mapping[str, Hot]
    runs: Mapping[str, Run]
    tests: Mapping[str, PressureTest] | str | None
    claims: Mapping[str, Claim]
    measured: Mapping[str, Reading]
    waivers: tuple[Waiver, ...]
    layers: Mapping[tuple[str, str], tuple[Layer, ...]]
    materials: Materials | None = None
