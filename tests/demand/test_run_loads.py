"""Loads of runs by hand: trees, rings, heaters, mixing valves, returns, the rest of a house, what is not shown."""

from __future__ import annotations

import pytest

from tests.demand.houses import GPM, gpm, house_loads, loads, one_by_one, units

TREE = """
t: {is: tee}
u: {is: tee}
wc: {is: toilet, place: bath}
lav: {is: lavatory, place: bath}
tub: {is: tub and shower, place: bath}
"""
TREE_LINES = """
bath: cold/B > t
wc-c: t/branch > wc
rest-c: t/out > u
lav-c: u/branch > lav/cold
tub-c: u/out > tub/cold
lav-h: hot/B > lav/hot
tub-h: hot/C > tub/hot
"""


def test_a_bathroom_cold_hot_and_together() -> None:
    found = house_loads(TREE, TREE_LINES)
    assert units(found, "wc-c") == (2.2, 0, 2.2)
    assert units(found, "rest-c") == (1.5, 0, 1.5)
    assert units(found, "bath") == (2.7, 0, 2.7)
    assert one_by_one(found, "bath") == (3.7, 0, 3.7)
    assert units(found, "lav-h") == (0, 0.5, 0.5)
    assert units(found, "rise") == units(found, "feed") == (0, 1.5, 1.5)
    assert units(found, "entry") == (2.7, 1.5, 3.6)
    assert one_by_one(found, "entry") == (3.7, 1.5, 4.3)


def test_a_run_drawn_against_the_water_serves_the_same() -> None:
    turned = TREE_LINES.replace("bath: cold/B > t", "bath: t/in > cold/B").replace("t/out > u", "u/in > t/out")
    assert units(house_loads(TREE, turned), "bath") == (2.7, 0, 2.7)
    assert units(house_loads(TREE, turned), "rest-c") == (1.5, 0, 1.5)


def test_flows_of_both_methods_with_how_and_source() -> None:
    load = house_loads(TREE, TREE_LINES)["entry"]
    assert gpm(load.by_units.flow_m3s) == pytest.approx(8.0)
    assert load.by_units.how == "flush tank column, rounded up to the next row (4)"
    assert "P2903.6" in load.by_units.sources[0].document
    assert gpm(load.by_binomial.flow_m3s) == pytest.approx(
        7.0
    )  # computed independently: tub and shower, lavatory, toilet
    assert load.by_binomial.how == "binomial, 99 in 100"
    assert load.by_units.missing == load.by_binomial.missing == ()


def test_cold_and_hot_apart_by_the_binomial_method() -> None:
    found = house_loads(TREE, TREE_LINES)
    assert gpm(found["wc-c"].by_binomial.flow_m3s) == pytest.approx(3.0)
    assert gpm(found["lav-h"].by_binomial.flow_m3s) == pytest.approx(1.5)
    assert found["rise"].by_binomial == found["rest-c"].by_binomial  # lavatory and tub both


def test_every_run_of_a_ring_carries_the_ring_and_its_entry_the_rest_too() -> None:
    parts = """
street: {is: source}
first: {is: tee}
join: {is: tee}
a: {is: tee}
b: {is: tee}
wc1: {is: toilet}
wc2: {is: toilet}
hose: {is: hose outlet}
"""
    lines = """
entry: street > first
hose-c: first/branch > hose
to-ring: first/out > join/branch
left: join/out > a/in
over: a/out > b/in
right: b/out > join/in
one: a/branch > wc1
two: b/branch > wc2
"""
    found = loads(parts, lines)
    assert {run: units(found, run)[2] for run in found} == {
        "entry": 6.9,
        "hose-c": 2.5,
        "to-ring": 4.4,
        "left": 4.4,
        "over": 4.4,
        "right": 4.4,
        "one": 2.2,
        "two": 2.2,
    }


def test_a_second_ring_hung_on_the_first_carries_only_its_own() -> None:
    parts = "street: {is: source}\n" + "\n".join(
        f"{name}: {{is: manifold, shape: ring, ports: {{in: {{use: feed}}, A: {{}}, B: {{}}, C: {{}}}}}}"
        for name in ("m", "n")
    )
    parts += "\nwc1: {is: toilet}\nwc2: {is: toilet}\nwc3: {is: toilet}"
    lines = "entry: street > m/in\na: m/A > wc1\nlink: m/B > n/in\nb: n/A > wc2\nc: n/B > wc3"
    found = loads(parts, lines)
    assert units(found, "entry")[2] == pytest.approx(6.6)
    assert units(found, "link")[2] == pytest.approx(4.4)
    assert units(found, "a")[2] == pytest.approx(2.2)


def test_two_heaters_side_by_side_each_carry_all_hot_and_the_main_counts_it_once() -> None:
    parts = """
street: {is: source}
c: {is: tee}
h: {is: tee}
d: {is: tee}
one: {is: water heater}
two: {is: water heater}
sink: {is: kitchen sink}
"""
    lines = """
entry: street > d
sink-c: d/branch > sink/cold
link: d/out > c
c1: c/out > one/cold
c2: c/branch > two/cold
h1: one/hot > h/in
h2: two/hot > h/out
sink-h: h/branch > sink/hot
"""
    found = loads(parts, lines)
    assert {run: units(found, run) for run in found} == {
        "entry": (1.0, 1.0, 1.4),
        "sink-c": (1.0, 0, 1.0),
        **dict.fromkeys(("link", "c1", "c2", "h1", "h2", "sink-h"), (0, 1.0, 1.0)),
    }


def test_a_mixing_valve_at_the_heater_draws_from_both_and_counts_once_before_them() -> None:
    found = house_loads(
        "mv: {is: mixing valve}\nlav: {is: lavatory}\nl2: {is: lavatory}\nt: {is: tee}",
        """
mix-c: cold/B > mv/cold
mix-h: hot/A > mv/hot
out: mv/mixed > t
a: t/out > lav/hot
b: t/branch > l2/hot
lav-c: cold/C > lav/cold
""",
    )
    assert (
        units(found, "out") == units(found, "mix-h") == units(found, "mix-c") == units(found, "feed") == (0, 1.0, 1.0)
    )
    assert units(found, "entry") == (0.5, 1.0, 1.2)


def test_a_return_carries_no_draw_and_does_not_join_hot_to_cold() -> None:
    found = house_loads(
        "t: {is: tee}\nlav: {is: lavatory}\njoin: {is: tee}\n"
        "pump: {is: pump}\ncheck: {is: check valve, onto: pump/out}\n",
        "a: hot/A > t\nb: t/branch > lav/hot\nc: t/out > pump/in\nd: check/out > join/branch\n"
        "e: cold/B > join/in\nf: join/out > lav/cold",
    )
    assert units(found, "c") == units(found, "d") == (0, 0, 0)
    assert found["c"].by_units.flow_m3s == found["c"].by_binomial.flow_m3s == 0
    assert units(found, "a") == (0, 0.5, 0.5)
    assert units(found, "e") == (0.5, 0, 0.5)


def test_a_dishwasher_on_the_sinks_stop_counts_on_the_hot_run() -> None:
    parts = "sink: {is: kitchen sink, place: k, supply: {stop: dual}}\ndw: {is: dishwasher, place: k, onto: sink/hot}"
    lines = "sink-c: cold/B > sink/cold\nsink-h: hot/A > sink/hot"
    found = house_loads(parts, lines)
    assert units(found, "sink-h") == (0, 1.9, 1.9)
    assert one_by_one(found, "sink-h") == (0, 2.4, 2.4)
    assert units(found, "entry") == (1.0, 1.9, 2.5)
    assert units(house_loads(parts, lines, "upc"), "sink-h") == (0, 1.5, 1.5)
    assert units(house_loads(parts, lines, "upc"), "entry") == (1.125, 1.5, 1.5)


REST_LINES = "r-c: cold/B > rest/cold\nr-h: hot/A > rest/hot"


def test_rest_of_house_by_its_fixtures() -> None:
    found = house_loads("rest: {is: rest of house, fixtures: {toilet: 1, lavatory: 1, dishwasher: 2}}", REST_LINES)
    assert units(found, "r-c") == (2.5, 0, 2.5)
    assert units(found, "r-h") == (0, 0.5 + 2.8, 0.5 + 2.8)
    assert units(found, "entry") == (2.5, 3.3, 2.6 + 2.8)


def test_rest_of_house_without_hot_heats_its_own() -> None:
    found = house_loads("rest: {is: rest of house, hot: none, fixtures: {lavatory: 2}}", "r-c: cold/B > rest/cold")
    assert units(found, "r-c") == (1.4, 0, 1.4)


def test_rest_of_house_by_its_draw_on_top_of_both_methods() -> None:
    found = house_loads(
        "lav: {is: lavatory}\nrest: {is: rest of house, draw: 6 gpm}", REST_LINES + "\nl: cold/C > lav/cold"
    )
    for run, by_units, by_chance in (("entry", 3.0 + 6, 1.5 + 6), ("r-c", 6, 6), ("r-h", 6, 6), ("l", 3.0, 1.5)):
        assert gpm(found[run].by_units.flow_m3s) == pytest.approx(by_units)
        assert gpm(found[run].by_binomial.flow_m3s) == pytest.approx(by_chance)
    assert found["entry"].by_units.added_m3s == pytest.approx(6 * GPM)
    assert "stated draw" in found["entry"].by_units.how


def test_the_draw_stands_in_only_where_a_method_cannot_count_the_fixtures() -> None:
    found = house_loads("rest: {is: rest of house, fixtures: {ice maker: 1, bar sink: 1}, draw: 6 gpm}", REST_LINES)
    assert gpm(found["r-c"].by_units.flow_m3s) == pytest.approx(5.0)  # 1.25 units, rounded up to the row of 2
    assert gpm(found["r-c"].by_binomial.flow_m3s) == pytest.approx(6)  # no place for an ice maker in the study


def test_the_rest_of_house_unsaid_is_not_shown_where_it_lies_and_nowhere_else() -> None:
    found = house_loads("lav: {is: lavatory}\nrest: {is: rest of house}", REST_LINES + "\nl: cold/C > lav/cold")
    for run in ("entry", "r-c", "r-h", "feed"):
        for peak in (found[run].by_units, found[run].by_binomial):
            assert peak.flow_m3s is None
            assert [gap.path for gap in peak.missing] == [("parts", "rest", "fixtures")]
    assert gpm(found["l"].by_units.flow_m3s) == pytest.approx(3.0)


def test_an_ice_maker_has_fixture_units_but_no_place_in_the_study() -> None:
    load = house_loads("ice: {is: ice maker}\nlav: {is: lavatory}", "i: cold/B > ice\nl: cold/C > lav/cold")["entry"]
    assert load.units is not None
    assert load.units.total == 0.75  # the lavatory's cold side and a drinking fountain's 0.25
    assert load.by_units.flow_m3s is not None
    assert load.by_binomial.flow_m3s is None
    assert load.by_binomial.missing[0].path == ("parts", "ice")
    assert "ice maker" in load.by_binomial.missing[0].what


@pytest.mark.parametrize(
    ("part", "key"),
    [
        ("{is: toilet, flush: 1.6 gal}", "flush"),
        ("{is: toilet, style: flush valve}", "style"),
        ("{is: lavatory, faucet: 2.2 gpm}", "faucet"),
        ("{is: shower, head: 2.5 gpm}", "head"),
    ],
)
def test_what_takes_more_than_the_studys_fixture_is_not_in_its_table(part: str, key: str) -> None:
    side = "" if "toilet" in part else "/cold"
    gap = house_loads(f"x: {part}", f"x-c: cold/B > x{side}")["x-c"].by_binomial.missing
    assert [one.path for one in gap] == [("parts", "x", key)]


@pytest.mark.parametrize(
    "part", ["{is: toilet, flush: 1.28 gal}", "{is: shower, head: 7.5 L/min}", "{is: lavatory, faucet: 1.5 gpm}"]
)
def test_what_takes_no_more_is(part: str) -> None:
    side = "" if "toilet" in part else "/cold"
    assert house_loads(f"x: {part}", f"x-c: cold/B > x{side}")["x-c"].by_binomial.missing == ()


def test_one_hose_outlet_of_several_comes_on_top() -> None:
    parts = "a: {is: hose outlet}\nb: {is: hose outlet}\nlav: {is: lavatory}"
    lines = "x: cold/B > a\ny: cold/C > b\nl: hot/A > lav/hot"
    found = house_loads(parts, lines)
    assert gpm(found["entry"].by_binomial.flow_m3s) == pytest.approx(6.5)
    assert gpm(found["x"].by_binomial.flow_m3s) == pytest.approx(5.0)
    assert units(found, "entry")[2] == 5.5
    assert units(house_loads(parts, lines, "upc"), "entry")[2] == 2.5 + 1.0 + 0.75
    ipc = house_loads(parts, lines, "ipc")["entry"]  # no row there: a continuous draw beside the fixture units
    assert gpm(ipc.by_units.flow_m3s) == pytest.approx(3.0 + 5.0)
    assert ipc.by_units.missing == ()


def test_a_flush_valve_takes_the_valve_column_before_it_and_not_on_hot() -> None:
    found = house_loads(TREE.replace("is: toilet", "is: toilet, style: flush valve"), TREE_LINES, "ipc")
    assert gpm(found["entry"].by_units.flow_m3s) == pytest.approx(22.2)  # the group of 8
    assert gpm(found["rise"].by_units.flow_m3s) == pytest.approx(5.0)  # 1.5, tank column


def test_without_a_code_only_the_binomial_method_is_shown() -> None:
    load = house_loads(TREE, TREE_LINES, None)["entry"]
    assert (load.units, load.single, load.by_units.flow_m3s) == (None, None, None)
    assert [gap.path for gap in load.by_units.missing] == [("code", "family")]
    assert gpm(load.by_binomial.flow_m3s) == pytest.approx(7.0)


def test_runs_without_water_and_between_hot_and_cold_say_so() -> None:
    found = house_loads("v: {is: valve}\nw: {is: valve}", "loose: v > w/in\ncross: hot/C > cold/C")
    assert "water that reaches" in found["loose"].by_units.missing[0].what
    assert found["loose"].by_binomial.missing[0].path == ("runs", "loose")
    assert "hot and cold meet" in found["cross"].by_units.missing[0].what


def test_heaters_feeding_each_other_end() -> None:
    found = loads(
        "street: {is: source}\nt: {is: tee}\nu: {is: tee}\nlav: {is: lavatory}\n"
        "a: {is: water heater}\nb: {is: water heater}",
        "e: street > t\nx: t/out > a/cold\ny: a/hot > u\nz: u/branch > b/cold\nw: b/hot > t/branch\nl: u/out > lav/hot",
    )
    assert set(found) == {"e", "x", "y", "z", "w", "l"}
    assert units(found, "l") == (0, 0.5, 0.5)


def test_an_edge_within_a_manifold_has_a_load_too() -> None:
    from plancheck.demand.loads import loads_of
    from tests.network.nets import house

    net = house("wc: {is: toilet}\nlav: {is: lavatory}", "a: cold/B > wc\nb: cold/C > lav/cold")
    found = loads_of(net.plan, net.graph, net.traced, "irc")
    numbers = {
        frozenset(net.graph.names[end] for end in (edge.a, edge.b)): number
        for number, edge in enumerate(net.graph.edges)
    }
    gap = found.of_edge(numbers[frozenset(("cold/B:row", "cold/C:row"))])
    assert gap.units is not None
    assert gap.units.total == 0.5
