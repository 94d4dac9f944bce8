"""Which runs lie on a ring, compared with networkx, and which manifold port each run hangs on."""

from __future__ import annotations

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.network.search import bridges
from tests.network.nets import Net, house, net

RINGS = """
one: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {}, B: {}, C: {}, D: {}}}
two: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {}, B: {}, C: {}}}
"""


def _ringed(found: Net) -> set[str]:
    return {run for run, carried in found.traced.runs.items() if carried.ring}


def test_two_manifolds_joined_twice_make_a_ring_and_a_home_run_does_not() -> None:
    found = net(
        f"street: {{is: source}}\nwc: {{is: toilet}}\nlav: {{is: lavatory}}{RINGS}",
        "entry: street > one/in\nleft: one/A > two/in\nright: one/B > two/A\nhome: one/C > wc\nfar: two/B > lav/cold",
    )
    assert _ringed(found) == {"left", "right"}


def test_two_manifolds_joined_once_make_no_ring() -> None:
    found = net(
        f"street: {{is: source}}\nwc: {{is: toilet}}{RINGS}",
        "entry: street > one/in\nleft: one/A > two/in\nfar: two/A > wc",
    )
    assert _ringed(found) == set()


def test_a_shop_made_ring_is_a_ring_of_bodies_and_none_of_its_home_runs_is() -> None:
    found = net(
        "street: {is: source}\nwc: {is: toilet}\n"
        "ring: {is: manifold, shape: ring, ports: {in: {use: feed}, A: {}, B: {}}}",
        "entry: street > ring/in\nhome: ring/A > wc",
    )
    assert _ringed(found) == set()
    on_ring = {found.graph.names[end] for number in found.traced.rings for end in found.graph.edges[number][:2]}
    assert on_ring == {"ring/in:row", "ring/A:row", "ring/B:row"}


def test_a_hot_loop_with_a_pump_and_a_fixture_fed_from_both_rows_make_no_ring() -> None:
    found = house(
        "t: {is: tee}\nlav: {is: lavatory}\njoin: {is: tee}\n"
        "pump: {is: pump}\ncheck: {is: check valve, onto: pump/out}\n",
        "a: hot/A > t\nb: t/branch > lav/hot\nc: t/out > pump/in\nd: check/out > join/branch\n"
        "e: cold/B > join/in\nf: join/out > lav/cold",
    )
    assert _ringed(found) == set()


def test_a_dedicated_return_is_no_ring() -> None:
    found = house(
        "t: {is: tee}\nlav: {is: lavatory}\n", "a: hot/A > t\nb: t/branch > lav/hot\nc: t/out > heater/return"
    )
    assert _ringed(found) == set()


def test_removed_runs_close_no_ring() -> None:
    found = net(
        f"street: {{is: source}}\nwc: {{is: toilet}}{RINGS}",
        "entry: street > one/in\nleft: one/A > two/in\nright: one/B > two/A | work: removed\nfar: two/B > wc",
    )
    assert _ringed(found) == set()


def test_circuits_are_named_by_the_port_they_hang_on() -> None:
    found = house(
        "t: {is: tee}\nlav: {is: lavatory}\nwc: {is: toilet}\nbox: {is: clothes washer}\n",
        "a: cold/B > t\nb: t/out > lav/cold\nc: t/branch > wc\nd: hot/B > lav/hot\ne: box/cold > cold/C",
    )
    circuits = {run: carried.circuit for run, carried in found.traced.runs.items()}
    assert circuits == {
        "entry": None,
        "feed": "cold/A",
        "rise": None,
        "a": "cold/B",
        "b": "cold/B",
        "c": "cold/B",
        "d": "hot/B",
        "e": "cold/C",
    }


def test_a_circuit_that_feeds_a_second_manifold_ends_at_its_ports() -> None:
    found = house(
        "far: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {}, B: {}}}\nwc: {is: toilet}\n",
        "a: cold/B > far/in\nb: far/A > wc",
    )
    circuits = {run: carried.circuit for run, carried in found.traced.runs.items()}
    assert (circuits["a"], circuits["b"]) == ("cold/B", "far/A")


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 12), st.lists(st.tuples(st.integers(0, 11), st.integers(0, 11)), max_size=25))
def test_bridges_agree_with_networkx(count: int, pairs: list[tuple[int, int]]) -> None:
    pairs = [(a % count, b % count) for a, b in pairs]
    ways: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    graph = nx.MultiGraph()
    graph.add_nodes_from(range(count))
    for number, (a, b) in enumerate(pairs):
        if a != b:
            ways[a].append((b, number))
            ways[b].append((a, number))
            graph.add_edge(a, b, number)
    single = nx.Graph(graph)
    wanted = {frozenset(pair) for pair in nx.bridges(single) if graph.number_of_edges(*pair) == 1}
    found = bridges(ways, count, lambda vertex: True)
    assert {frozenset(pairs[number]) for number in found} == wanted
