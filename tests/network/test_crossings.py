"""Where hot and cold meet though nothing should join them: named alone, whatever else hangs on the two sides."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.network.nets import ANY_ENDS, ANY_PARTS, Net, any_lines, house, net, plan_of, traced

MORE = """
lav-c: cold/B > lav/cold
lav-h: hot/A > lav/hot
"""
LINK, FEED = 2, 5  # a run that feeds a manifold counts as two and a half others
LAV = "lav: {is: lavatory}\n"


def test_a_link_between_the_rows_is_named_alone() -> None:
    found = house(LAV, MORE + "link: hot/C > cold/C")
    assert found.traced.crossovers == ("link",)
    assert (found.services()["lav-c"], found.services()["lav-h"]) == ("cold", "hot")


@pytest.mark.parametrize("fixtures", [1, 4, 9])
def test_a_link_to_a_cold_ring_is_named_alone_with_any_number_of_fixtures(fixtures: int) -> None:
    ports = ", ".join(f"p{n}: {{}}" for n in range(fixtures + 2))
    parts = f"ring: {{is: manifold, shape: ring, ports: {{in: {{use: feed}}, {ports}}}}}\n"
    parts += f"row: {{is: manifold, shape: straight, ports: {{in: {{use: feed}}, {ports}}}}}\n"
    runs = "to-ring: cold/B > ring/in\nto-row: hot/B > row/in\n"
    for n in range(fixtures):
        parts += f"f{n}: {{is: lavatory}}\n"
        runs += f"c{n}: ring/p{n} > f{n}/cold\nh{n}: row/p{n} > f{n}/hot\n"
    assert house(parts, runs).traced.crossovers == ()
    found = house(parts, runs + f"link: row/p{fixtures} > ring/p{fixtures}")
    assert found.traced.crossovers == ("link",)
    assert {found.services()[f"c{n}"] for n in range(fixtures)} == {"cold"}
    assert {found.services()[f"h{n}"] for n in range(fixtures)} == {"hot"}


def test_a_closed_valve_in_the_link_is_still_a_crossover() -> None:
    found = house(LAV + "v: {is: valve, normally: closed}\n", MORE + "l1: hot/C > v/in\nl2: v/out > cold/C")
    assert len(found.traced.crossovers) == 1
    assert set(found.traced.crossovers) <= {"l1", "l2"}


def test_a_check_valve_from_cold_into_hot_is_a_crossover() -> None:
    found = house(LAV + "k: {is: check valve}\n", MORE + "l1: cold/C > k/in\nl2: k/out > hot/C")
    assert len(found.traced.crossovers) == 1
    assert set(found.traced.crossovers) <= {"l1", "l2"}
    turned = house(LAV + "k: {is: check valve}\n", MORE + "l1: hot/C > k/in\nl2: k/out > cold/C")
    assert turned.traced.crossovers == ()
    assert len(turned.traced.returns) == 1


def test_a_part_made_up_between_the_two_is_named_where_no_run_can_be_taken_out() -> None:
    parts = """
street: {is: source}
heater: {is: water heater}
start: {is: tee, onto: street}
joint: {is: tee, onto: start/branch}
hot-tee: {is: tee, onto: heater/hot}
bridge: {is: valve, onto: joint/out}
meets: {is: tee, onto: bridge}
"""
    with_run = net(parts, "feed: start/out > heater/cold\nlink: meets/out > hot-tee/branch")
    assert with_run.traced.crossovers == ("link",)
    bare = net(
        parts.replace("onto: heater/hot", "onto: meets/out"),
        "feed: start/out > heater/cold\nh: heater/hot > hot-tee/out",
    )
    assert bare.traced.crossovers == ("h",)


def test_a_link_and_a_fixture_piped_crosswise_name_the_link_alone() -> None:
    crossed = "lav-c: hot/A > lav/cold\nlav-h: cold/B > lav/hot\n"
    assert house(LAV, crossed).traced.crossovers == ()
    assert house(LAV, crossed + "link: hot/C > cold/C").traced.crossovers == ("link",)


def test_fixtures_crosswise_along_one_line_from_street_to_heater_outlet_are_still_a_crossover() -> None:
    tees = "".join(f"t{n}: {{is: tee}}\nf{n}: {{is: lavatory}}\n" for n in range(6))
    line = "a: cold/B > t0\n" + "".join(f"l{n}: t{n}/out > t{n + 1}\n" for n in range(5)) + "z: t5/out > hot/C\n"
    sides = "".join(f"s{n}: t{n}/branch > f{n}/{'hot' if n < 3 else 'cold'}\n" for n in range(6))
    found = house(tees, line + sides)
    assert len(found.traced.crossovers) == 1
    assert found.traced.crossovers[0] in {"a", "z", *(f"l{n}" for n in range(5)), "entry", "rise", "feed"}


def test_tempered_water_led_into_the_cold_line_is_a_crossover() -> None:
    found = house(
        "mv: {is: mixing valve}\nt: {is: tee}\nu: {is: tee}\nlav: {is: lavatory}\nsink: {is: kitchen sink}\n",
        "a: hot/A > mv/hot\nb: cold/B > mv/cold\nc: mv/mixed > t\nd: t/out > lav/hot\ne: cold/C > u\n"
        "f: u/out > lav/cold\nlink: t/branch > u/branch\ng: hot/B > sink/hot",
    )
    assert len(found.traced.crossovers) == 1
    assert set(found.traced.crossovers) <= {"c", "link", "e"}


def _random_house(cold: list[int], hot: list[int], links: list[tuple[int, int]]) -> tuple[str, str, nx.Graph]:
    """Two trees of tees, one on the street and one on the heater, with links; and the same as a plain graph."""
    parts, graph = ["street: {is: source}", "heater: {is: water heater}"], nx.Graph()
    runs = []

    def grow(side: str, trunk: str, above: list[int], stubs: int) -> None:
        for n, over in enumerate(above):
            parts.append(_row(f"{side}{n}", len(above) + stubs))
            start = trunk if n == 0 else f"{side}{over % n}/p{n}"
            runs.append(f"{side}-run{n}: {start} > {side}{n}/in")
            graph.add_edge(trunk.partition("/")[0] if n == 0 else f"{side}{over % n}", f"{side}{n}", capacity=FEED)

    grow("c", "street", cold, len(links))
    grow("h", "heater/hot", hot, len(links))
    for n, (a, b) in enumerate(links):
        one, other = f"c{a % len(cold)}", f"h{b % len(hot)}"
        runs.append(f"link{n}: {one}/p{len(cold) + n} > {other}/p{len(hot) + n}")
        capacity = graph.edges[one, other]["capacity"] + LINK if graph.has_edge(one, other) else LINK
        graph.add_edge(one, other, capacity=capacity)
    return "\n".join(parts), "\n".join(runs), graph


def _row(name: str, ports: int) -> str:
    named = ", ".join(f"p{n}: {{}}" for n in range(ports))
    return f"{name}: {{is: manifold, shape: straight, ports: {{in: {{use: feed}}, {named}}}}}"


_above = st.lists(st.integers(0, 99), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(_above, _above, st.lists(st.tuples(st.integers(0, 99), st.integers(0, 99)), max_size=5))
def test_the_pieces_count_as_much_as_a_least_cut_by_networkx(
    cold: list[int], hot: list[int], links: list[tuple[int, int]]
) -> None:
    parts, runs, graph = _random_house(cold, hot, links)
    found = traced(plan_of(parts, runs)).traced.crossovers
    least = nx.minimum_cut_value(graph, "street", "heater") if nx.has_path(graph, "street", "heater") else 0
    assert sum(LINK if run.startswith("link") else FEED for run in found) == least
    kept = "\n".join(line for line in runs.splitlines() if line.partition(":")[0] not in found)
    assert traced(plan_of(parts, kept)).traced.crossovers == ()


def _meet(found: Net) -> bool:
    """Whether networkx finds a way for cold to where hot begins, the insides of heater and mixing valve left out."""
    graph = nx.DiGraph()
    graph.add_nodes_from(found.graph.names)
    for a, b, _, one_way in found.graph.edges:
        graph.add_edge(found.graph.names[a], found.graph.names[b])
        if not one_way:
            graph.add_edge(found.graph.names[b], found.graph.names[a])
    graph.remove_nodes_from(("heater", "mv"))
    hot = "heater/cold" if found.graph.swapped else "heater/hot"
    return any(nx.has_path(graph, "street/out", end) for end in (hot, "mv/mixed"))


def _fed_on_its_hot_side(lines: list[str]) -> bool:
    """Whether networkx finds cold at heater/hot and none at heater/cold, which leads to an outlet.

    The parts as plain nodes, and arrows as ANY_PARTS has them.
    """
    graph = nx.DiGraph()
    both = [("t1", "in", "out"), ("t1", "in", "branch"), ("t2", "in", "out"), ("t2", "in", "branch")]
    both += [("t3", "in", "out"), ("t3", "in", "branch"), *((valve, "in", "out") for valve in ("v1", "v2", "v3"))]
    both += [("ra", "in", str(port)) for port in (1, 2, 3, 4)] + [("rb", "in", str(port)) for port in (1, 2, 3)]
    ends = [(f"{part}/{a}", f"{part}/{b}") for part, a, b in both]
    ends += [tuple(line.partition(": ")[2].split(" > ")) for line in lines]
    for a, b in ends:
        graph.add_edges_from(((a, b), (b, a)))
    graph.add_edges_from((("k/in", "k/out"), ("heater/cold", "heater"), ("street", "street/out")))
    taps = {"f1/cold", "f1/hot", "f2/cold", "f2/hot", "f3"}
    for tap in taps & set(graph):  # water comes to an outlet, never back through it
        graph.add_edge(tap, f"{tap}:tap")
        for end in list(graph.successors(tap)):
            if not end.endswith(":tap"):
                graph.remove_edge(tap, end)
    graph.add_node("heater/hot")
    came, beyond = nx.descendants(graph, "street"), nx.descendants(graph, "heater/cold")
    drawn = any(end.endswith(":tap") for end in beyond)
    return "heater/hot" in came and "heater/cold" not in came and drawn


@settings(max_examples=200, deadline=None)
@given(st.permutations(ANY_ENDS), st.integers(5, len(ANY_ENDS) // 2))
def test_in_any_network_the_pieces_part_hot_from_cold_and_each_is_needed(ends: list[str], pairs: int) -> None:
    lines = any_lines(ends, pairs)
    whole = traced(plan_of(ANY_PARTS, "\n".join(lines)))
    found = whole.traced.crossovers
    assert bool(found) == _meet(whole)
    assert bool(whole.graph.swapped) == _fed_on_its_hot_side(lines)
    kept = [line for line in lines if line.partition(":")[0] not in found]
    assert len(kept) == len(lines) - len(found)
    assert traced(plan_of(ANY_PARTS, "\n".join(kept))).traced.crossovers == ()
    for line in set(lines) - set(kept):
        assert traced(plan_of(ANY_PARTS, "\n".join([*kept, line]))).traced.crossovers


def test_tees_alone_agree_with_the_least_edge_cut() -> None:
    parts = "street: {is: source}\nheater: {is: water heater}\n"
    parts += "".join(f"c{n}: {{is: tee}}\nh{n}: {{is: tee}}\n" for n in range(4))
    runs = "a: street > c0/branch\nb: heater/hot > h0/branch\n"
    for side in "ch":
        runs += f"{side}1: {side}0/in > {side}1/in\n{side}2: {side}0/out > {side}2/in\n"
        runs += f"{side}3: {side}1/out > {side}3/in\n{side}4: {side}2/out > {side}3/out\n"
    links = "l1: c1/branch > h1/branch\nl2: c2/branch > h2/branch\nl3: c3/branch > h3/branch\n"
    graph = nx.Graph()
    for line in (runs + links).splitlines():
        ends = line.partition(": ")[2].split(" > ")
        graph.add_edge(*(end.partition("/")[0] for end in ends))
    graph.remove_nodes_from(("street", "heater"))
    assert len(nx.minimum_edge_cut(graph, "c0", "h0")) == 2
    assert len(net(parts, runs + links).traced.crossovers) == 2


def test_the_house_of_these_tests_has_no_crossover_by_itself() -> None:
    assert house("", "").traced.crossovers == ()
