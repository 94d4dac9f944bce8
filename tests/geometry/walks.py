"""Plans of a few parts for the tests of positions: parts and runs as YAML, read as any plan is."""

from __future__ import annotations

import textwrap

from plancheck.building.build import build_plan
from plancheck.geometry import Geometry, Shape, find_geometry, shape_of_path
from plancheck.measures import read_length
from plancheck.model import Plan, Point, Ref
from plancheck.reading import read_bytes

FT, IN = 0.3048, 0.0254
HEAD = """
plancheck: 1
places: {cellar: {level: 0}, bath: {level: 9 ft}, yard: {is: outdoors}}
tubes: {t: {material: PEX-A, size: 1/2}}
"""


def plan_of(parts: str, runs: str) -> Plan:
    """A plan with a cellar at 0 and a bath at 9 ft."""
    text = f"{HEAD}parts:\n  street: {{is: source}}\n{textwrap.indent(textwrap.dedent(parts), '  ')}\n"
    text += f"runs:\n{textwrap.indent(textwrap.dedent(runs), '  ')}\n"
    return build_plan(read_bytes(text.encode(), "walk.plan.yaml"))


def geometry(parts: str, runs: str) -> Geometry:
    """The shapes and positions of such a plan."""
    return find_geometry(plan_of(parts, runs))


def where(found: Geometry, end: str) -> Point | None:
    """Where a connection `part/connection` stands, in inches; None where it is not known."""
    point = found.points.get(ref(end))
    return None if point is None else (point[0] / IN, point[1] / IN, point[2] / IN)


def height(found: Geometry, end: str) -> float | None:
    """How high a connection stands, in inches."""
    up = found.heights.get(ref(end))
    return None if up is None else up / IN


def ref(end: str) -> Ref:
    """`part/connection` as a reference."""
    part, _, connection = end.partition("/")
    return Ref(part, connection)


def shape(*legs: str) -> Shape:
    """The shape of a path of legs alone, such as "up 3 ft"."""
    from plancheck.building.paths import read_path

    found = shape_of_path(read_path(list(legs)), {})
    assert found is not None
    return found


def metres(text: str) -> float:
    """A length as plumbers write it, in metres."""
    return read_length(text).m
