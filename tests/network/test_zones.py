"""What each valve shuts off, compared with a search in which that valve is taken out and with networkx's dominators."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.network.graph import Graph, directed
from plancheck.network.search import dominators
from plancheck.network.zones import Zones, find_zones
from tests.network.nets import ANY_ENDS, ANY_PARTS, any_lines, house, net, plan_of, traced

BATH = "lav: {is: lavatory, supply: {stop: angle}}\nwc: {is: toilet, supply: {stop: angle}}\n"
PIPES = "a: cold/B > lav/cold\nb: hot/A > lav/hot\nc: cold/C > wc\n"


def test_worked_by_hand() -> None:
    found = house(BATH, PIPES)
    dry = {valve: set(sides) for valve, sides in found.zones.dry.items()}
    assert dry["main"] == {"lav/cold", "lav/hot", "wc/cold"}
    assert dry["cold/A"] == {"lav/hot"}  # it feeds the heater
    assert dry["cold/B"] == {"lav/cold"}
    assert dry["hot/A"] == {"lav/hot"}
    assert dry["hot/B"] == set()
    assert dry["wc/cold"] == {"wc/cold"}
    assert found.zones.before["lav/hot"] == ("lav/hot", "hot/A", "cold/A", "main")
    assert found.zones.before["wc/cold"] == ("wc/cold", "cold/C", "main")
    assert found.zones.unfed == ()


TWO_WAYS = """
street: {is: source}
v1: {is: valve}
v2: {is: valve}
t1: {is: tee}
t2: {is: tee}
wc: {is: toilet}
"""
AROUND = """
a: street > t1
b: t1/out > v1/in
c: t1/branch > v2/in
d: v1/out > t2/in
e: v2/out > t2/branch
f: t2/out > wc
"""


def test_a_second_way_round_keeps_an_outlet_wet() -> None:
    assert dict(net(TWO_WAYS, AROUND).zones.dry) == {"v1": (), "v2": ()}


def test_a_normally_closed_valve_lets_no_water_pass() -> None:
    closed = TWO_WAYS.replace("v2: {is: valve}", "v2: {is: valve, normally: closed}")
    assert dict(net(closed, AROUND).zones.dry) == {"v1": ("wc/cold",), "v2": ()}
    both = net(closed.replace("v1: {is: valve}", "v1: {is: valve, normally: closed}"), AROUND)
    assert both.zones.unfed == ("wc/cold",)


def test_water_does_not_come_back_through_a_heater_or_a_fixture() -> None:
    found = house(BATH + "t: {is: tee}\n", "a: cold/B > lav/cold\nb: hot/A > lav/hot\nr: hot/B > heater/return")
    assert found.zones.dry["cold/A"] == ("lav/hot",)
    assert found.zones.dry["cold/B"] == ("lav/cold",)


def test_a_section_valve_of_a_ring_dries_nothing_and_a_straight_row_all_behind_it() -> None:
    row = "row: {{is: manifold, shape: {shape}, ports: {{in: {{use: feed}}, A: {{}}, S: {{use: section}}, B: {{}}}}}}"
    runs = "e: street > row/in\na: row/A > wc\nb: row/B > lav/cold"
    for shape, wanted in (("ring", ()), ("straight", ("lav/cold",))):
        found = net(f"street: {{is: source}}\n{BATH}{row.format(shape=shape)}", runs)
        assert found.zones.dry["row/S"] == wanted


def test_a_plan_without_a_way_in_has_all_sides_unfed() -> None:
    plan = plan_of("street: {is: source}\nwc: {is: toilet}\nv: {is: valve}", "a: v/out > wc")
    found = traced(plan)
    assert found.zones.unfed == ("wc/cold",)
    assert found.zones.dry["v"] == ()
    nowhere = find_zones(found.graph._replace(source=None))
    assert nowhere.unfed == ("wc/cold",)
    assert nowhere.dry["v"] == ()


def test_the_answers_are_mappings_like_any_other() -> None:
    zones = house(BATH, PIPES).zones
    assert len(zones.dry) == len(list(zones.dry)) == len(dict(zones.dry))
    assert len(zones.before) == len(list(zones.before)) == 3
    assert "main" in zones.dry
    assert "nothing" not in zones.dry


def _wet(graph: Graph, shut: int | None) -> set[str]:
    """Outlet sides that a plain search reaches with one valve taken out; valves that stand closed are taken out too."""
    ways = directed(graph, barred=graph.closed | ({shut} if shut is not None else set()))
    assert graph.source is not None
    if shut == graph.source:
        return set()
    seen, waiting = {graph.source}, [graph.source]
    while waiting:
        for other, _ in ways[waiting.pop()]:
            if other not in seen:
                seen.add(other)
                waiting.append(other)
    return {name for name, tap in graph.outlets.items() if tap in seen}


def _same_as_by_hand(graph: Graph, zones: Zones) -> None:
    wet = _wet(graph, None)
    assert set(zones.unfed) == set(graph.outlets) - wet
    shuts: dict[str, set[str]] = {name: set() for name in wet}
    for name, valve in graph.valves.items():
        dried = wet - _wet(graph, valve)
        assert set(zones.dry[name]) == dried, name
        for side in dried:
            shuts[side].add(name)
    assert {side: set(valves) for side, valves in zones.before.items()} == shuts
    for side, valves in zones.before.items():  # nearest first: each one shuts all that the one before it shuts
        for near, far in pairwise(valves):
            assert set(zones.dry[near]) <= set(zones.dry[far])
            assert side in zones.dry[near]


@settings(max_examples=200, deadline=None)
@given(st.permutations(ANY_ENDS), st.integers(5, len(ANY_ENDS) // 2))
def test_any_network_agrees_with_a_search_without_the_valve(ends: list[str], pairs: int) -> None:
    joined = any_lines(ends, pairs)
    found = traced(plan_of(ANY_PARTS, "\n".join(joined)))
    _same_as_by_hand(found.graph, found.zones)


@settings(max_examples=300, deadline=None)
@given(st.integers(1, 14), st.lists(st.tuples(st.integers(0, 13), st.integers(0, 13)), max_size=40))
def test_dominators_agree_with_networkx(count: int, pairs: list[tuple[int, int]]) -> None:
    ways: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    graph = nx.DiGraph()
    graph.add_node(0)
    for number, (a, b) in enumerate(pairs):
        ways[a % count].append((b % count, number))
        graph.add_edge(a % count, b % count)
    wanted = dict(nx.immediate_dominators(graph, 0))
    wanted[0] = 0  # some versions of networkx leave the root out, or give it None
    assert dominators(ways, 0) == wanted
