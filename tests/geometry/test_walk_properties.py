"""What holds of every path: turned it is as long, there and back is where one began, any end may be the known one."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.geometry import Shape, at_distance, shape_of_path
from plancheck.model import Leg
from tests.geometry.walks import geometry, where

_step = st.integers(-120, 120)
_legs = st.lists(st.tuples(_step, _step, _step).filter(any), min_size=1, max_size=8)
_words = (("east", "west"), ("north", "south"), ("up", "down"))
Inches = tuple[int, int, int]


def shape(legs: list[tuple[float, float, float]]) -> Shape:
    found = shape_of_path(tuple(Leg(*leg) for leg in legs), {})
    assert found is not None
    return found


def said(leg: Inches) -> str:
    """A leg in words: east 3 in and up 4 in."""
    parts = [
        f"{pair[0] if inches > 0 else pair[1]} {abs(inches)} in"
        for inches, pair in zip(leg, _words, strict=True)
        if inches
    ]
    return " and ".join(parts)


def turned(degrees: float) -> Callable[[Inches], tuple[float, float, float]]:
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    return lambda leg: (leg[0] * cosine - leg[1] * sine, leg[0] * sine + leg[1] * cosine, float(leg[2]))


def same(one: Shape, other: Shape) -> None:
    assert other.length_m == pytest.approx(one.length_m)
    assert len(other.turns) == len(one.turns)
    assert [turn.angle for turn in other.turns] == pytest.approx([turn.angle for turn in one.turns], abs=1e-6)
    assert [turn.at_m for turn in other.turns] == pytest.approx([turn.at_m for turn in one.turns])


@given(_legs)
def test_mirrored_it_is_the_same(legs: list[Inches]) -> None:
    one = shape([(a, b, c) for a, b, c in legs])
    for flipped in (
        [(-a, b, c) for a, b, c in legs],
        [(a, -b, c) for a, b, c in legs],
        [(b, a, c) for a, b, c in legs],
    ):
        other = shape([(float(a), float(b), float(c)) for a, b, c in flipped])
        same(one, other)
        assert other.upright_m == pytest.approx(one.upright_m)


@given(_legs, st.floats(0, 360))
def test_turned_about_the_vertical_it_is_the_same(legs: list[Inches], degrees: float) -> None:
    same(shape([(a, b, c) for a, b, c in legs]), shape([turned(degrees)(leg) for leg in legs]))


@given(_legs)
def test_walked_backwards_it_has_the_same_turns_in_the_other_order(legs: list[Inches]) -> None:
    one, back = shape([(a, b, c) for a, b, c in legs]), shape([(-a, -b, -c) for a, b, c in reversed(legs)])
    assert back.length_m == pytest.approx(one.length_m)
    assert back.upright_m == pytest.approx(one.upright_m)
    assert [turn.angle for turn in reversed(back.turns)] == pytest.approx([turn.angle for turn in one.turns], abs=1e-6)


@given(_legs)
def test_stretches_add_up_and_touch(legs: list[Inches]) -> None:
    found = shape([(a, b, c) for a, b, c in legs])
    assert sum(stretch.length_m for stretch in found.stretches) == pytest.approx(found.length_m)
    assert found.length_m == pytest.approx(sum(math.hypot(*leg) for leg in legs))
    assert len(found.turns) == len(found.stretches) - 1
    for one, other in pairwise(found.stretches):
        assert other.a == pytest.approx(one.b)
        assert other.start_m == pytest.approx(one.start_m + one.length_m)


@given(_legs, st.floats(0, 1), st.floats(0, 1))
def test_points_of_a_path_are_no_further_apart_than_along_it(legs: list[Inches], first: float, second: float) -> None:
    found = shape([(a, b, c) for a, b, c in legs])
    p, q = at_distance(found, first * found.length_m), at_distance(found, second * found.length_m)
    assert math.dist(p, q) <= abs(first - second) * found.length_m + 1e-6


@settings(deadline=None)
@given(_legs)
def test_there_and_back_is_where_one_began(legs: list[Inches]) -> None:
    there = ", ".join(said(leg) for leg in legs)
    back = ", ".join(said((-a, -b, -c)) for a, b, c in reversed(legs))
    found = geometry(
        "a: {is: tee, at: [10 ft, 20 ft, 30 ft]}\nb: {is: tee}\nc: {is: tee}",
        f"x: {{from: a/out, to: b, tube: t, path: [{there}]}}\ny: {{from: b/out, to: c, tube: t, path: [{back}]}}",
    )
    assert where(found, "c/in") == pytest.approx((120, 240, 360), abs=1e-6)
    assert found.misses == ()


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 99), _step, _step, _step, st.booleans()), min_size=1, max_size=9),
    st.integers(0, 99),
)
def test_any_part_may_be_the_known_one(runs: list[tuple[int, int, int, int, bool]], known: int) -> None:
    """A tree of manifolds; the positions are sums along the only ways that networkx finds from the known one."""
    count = len(runs) + 1
    known %= count
    ports = ", ".join(f"p{n}: {{}}" for n in range(count))
    parts, lines, graph = [], [], nx.DiGraph()
    for n in range(count):
        at = "at: [1 ft, 2 ft, 3 ft], " if n == known else ""
        parts.append(f"m{n}: {{is: manifold, {at}shape: straight, row: east, ports: {{in: {{use: feed}}, {ports}}}}}")
    for n, (above, a, b, c, turn) in enumerate(runs, 1):
        leg = (a, b, c) if any((a, b, c)) else (1, 0, 0)
        start, end = (n, above % n) if turn else (above % n, n)
        one, other = (f"m{n}/p0", f"m{above % n}/p{n}") if turn else (f"m{above % n}/p{n}", f"m{n}/p0")
        lines.append(f"r{n}: {{from: {one}, to: {other}, tube: t, path: [{said(leg)}]}}")
        graph.add_edge(start, end, leg=leg)
        graph.add_edge(end, start, leg=tuple(-inches for inches in leg))
    found = geometry("\n".join(parts), "\n".join(lines))
    for n, way in nx.single_source_shortest_path(graph, known).items():
        legs = [(12, 24, 36), *(graph.edges[pair]["leg"] for pair in pairwise(way))]
        assert where(found, f"m{n}/in") == pytest.approx(tuple(map(sum, zip(*legs, strict=True))), abs=1e-6)
    assert found.misses == ()
