"""Which water each run carries: worked by hand on small networks."""

from __future__ import annotations

from plancheck.measures import Quantity
from plancheck.network.trace import temperature
from tests.network.nets import Net, house, net

BATH = """
lav: {is: lavatory}
wc: {is: toilet}
shower: {is: shower}
"""


def test_cold_and_hot() -> None:
    found = house(
        BATH,
        """
        lav-c: cold/B > lav/cold
        lav-h: hot/A > lav/hot
        wc-c: cold/C > wc
        """,
    )
    assert found.services() == {
        "entry": "cold",
        "feed": "cold",
        "rise": "hot",
        "lav-c": "cold",
        "lav-h": "hot",
        "wc-c": "cold",
    }
    assert found.traced.crossovers == ()
    assert found.traced.returns == ()


def test_a_run_written_from_the_fixture_is_turned_round() -> None:
    found = house(BATH, "lav-c: lav/cold > cold/B\nwc-c: cold/C > wc")
    assert found.traced.runs["lav-c"].service == "cold"
    assert found.traced.runs["lav-c"].reversed_
    assert not found.traced.runs["wc-c"].reversed_


def test_sides_crossed_at_a_manifold_are_traced_as_they_are_and_no_crossover() -> None:
    found = house(BATH, "a: cold/B > shower/hot\nb: hot/A > shower/cold\nc: cold/C > wc")
    assert (found.services()["a"], found.services()["b"]) == ("cold", "hot")
    assert found.traced.crossovers == ()


def test_dedicated_return_begins_after_the_last_draw() -> None:
    found = house(
        BATH + "t1: {is: tee}\nt2: {is: tee}\npump: {is: pump}\n",
        """
        loop1: hot/A > t1
        lav-h: t1/branch > lav/hot
        loop2: t1/out > t2
        shower-h: t2/branch > shower/hot
        back1: t2/out > pump/in
        back2: pump/out > heater/return
        """,
    )
    waters = found.services()
    assert [waters[run] for run in ("loop1", "lav-h", "loop2", "shower-h")] == ["hot"] * 4
    assert [waters[run] for run in ("back1", "back2")] == ["hot return"] * 2
    assert found.traced.crossovers == ()


def test_two_loops_that_join_have_both_their_tails_marked() -> None:
    found = house(
        BATH + "t1: {is: tee}\nt2: {is: tee}\nmerge: {is: tee}\n",
        """
        out1: hot/A > t1
        lav-h: t1/branch > lav/hot
        out2: hot/B > t2
        shower-h: t2/branch > shower/hot
        back1: t1/out > merge/in
        back2: t2/out > merge/branch
        home: merge/out > heater/return
        """,
    )
    waters = found.services()
    assert [waters[run] for run in ("out1", "out2", "lav-h", "shower-h")] == ["hot"] * 4
    assert [waters[run] for run in ("back1", "back2", "home")] == ["hot return"] * 3


def test_return_into_the_cold_line_through_pump_and_check_is_no_crossover() -> None:
    found = house(
        BATH + "t1: {is: tee}\npump: {is: pump}\ncheck: {is: check valve, onto: pump/out}\njoin: {is: tee}\n",
        """
        loop: hot/A > t1
        lav-h: t1/branch > lav/hot
        back: t1/out > pump/in
        last: check/out > join/branch
        by: cold/B > join/in
        beyond: join/out > lav/cold
        """,
    )
    waters = found.services()
    assert found.traced.crossovers == ()
    assert (waters["loop"], waters["back"], waters["last"]) == ("hot", "hot return", "hot return")
    assert (waters["by"], waters["beyond"]) == ("cold", "cold")
    assert [found.graph.names[vertex] for vertex in found.traced.returns] == ["check/out"]
    assert found.at("join") == "cold"


def test_return_by_gravity_without_a_check_is_a_crossover() -> None:
    found = net(
        """
street: {is: source}
join: {is: tee}
split: {is: tee}
heater: {is: water heater}
t1: {is: tee}
lav: {is: lavatory}
""",
        """
        entry: street > split
        lav-c: split/branch > lav/cold
        feed: split/out > join/in
        heat: join/out > heater/cold
        hot1: heater/hot > t1
        lav-h: t1/branch > lav/hot
        back: t1/out > join/branch
        """,
    )
    assert found.traced.crossovers == ("back",)
    assert (found.services()["hot1"], found.services()["feed"]) == ("hot", "cold")


def test_listed_thermal_bypass_is_a_return_and_no_crossover() -> None:
    found = house(
        BATH + "tc: {is: tee}\nth: {is: tee}\nbypass: {is: valve, style: thermal bypass}\n",
        """
        h1: hot/A > th
        h2: th/out > lav/hot
        c1: cold/B > tc
        c2: tc/out > lav/cold
        over1: th/branch > bypass/in
        over2: bypass/out > tc/branch
        """,
    )
    waters = found.services()
    assert found.traced.crossovers == ()
    assert (waters["over1"], waters["over2"], waters["c1"], waters["h1"]) == ("hot", "cold", "cold", "hot")
    assert [found.graph.names[vertex] for vertex in found.traced.returns] == ["bypass/out"]


def _tempered(extra_parts: str = "", extra_runs: str = "") -> Net:
    return house(
        "mv: {is: mixing valve, set: 115 degF}\nlav: {is: lavatory}\nshower: {is: shower}\nsink: {is: kitchen sink}\n"
        "row: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {}, B: {}, C: {}, D: {}}}\n" + extra_parts,
        "to-mv-h: hot/A > mv/hot\nto-mv-c: cold/B > mv/cold\ntempered: mv/mixed > row/in\n"
        "lav-h: row/A > lav/hot\nshower-h: row/B > shower/hot\n" + extra_runs,
    )


def test_behind_a_mixing_valve_for_the_house_it_is_hot_at_the_valves_temperature() -> None:
    found = _tempered()
    assert found.services()["tempered"] == found.services()["lav-h"] == "hot"
    assert found.traced.runs["lav-h"].heated_by == "mv"
    assert found.traced.runs["to-mv-h"].heated_by == "heater"
    tempered, heated = (temperature(found.plan, found.traced.runs[run]) for run in ("lav-h", "to-mv-h"))
    assert isinstance(tempered, Quantity) and isinstance(heated, Quantity)
    assert (round(tempered.si * 1.8 + 32), round(heated.si * 1.8 + 32)) == (115, 120)


def test_a_dishwasher_ahead_of_that_valve_does_not_change_it() -> None:
    found = _tempered("dw: {is: dishwasher}\n", "dw-h: hot/B > dw")
    assert found.services()["lav-h"] == "hot"
    assert found.traced.runs["dw-h"].heated_by == "heater"


def test_a_valve_for_the_smaller_part_of_the_house_gives_mixed() -> None:
    found = _tempered("dw: {is: dishwasher}\n", "dw-h: hot/B > dw\nsink-h: hot/C > sink/hot")
    assert found.services()["lav-h"] == "mixed"
    assert found.services()["sink-h"] == "hot"


def test_mixed_behind_a_mixing_valve_of_one_fixture() -> None:
    found = house(
        BATH + "mv: {is: mixing valve, set: 110 degF}\nt: {is: tee}\n",
        """
        c: cold/B > t
        lav-c: t/out > lav/cold
        mv-c: t/branch > mv/cold
        mv-h: hot/A > mv/hot
        lav-h: mv/mixed > lav/hot
        shower-h: hot/B > shower/hot
        """,
    )
    waters = found.services()
    assert (waters["mv-c"], waters["mv-h"], waters["lav-h"], waters["shower-h"]) == ("cold", "hot", "mixed", "hot")
    assert found.traced.runs["lav-h"].heated_by == "mv"
    assert found.traced.crossovers == ()


def test_a_mixing_valve_for_the_rest_of_the_house_gives_hot() -> None:
    found = house(
        "mv: {is: mixing valve}\nrest: {is: rest of house}\n",
        "a: hot/A > mv/hot\nb: cold/B > mv/cold\nc: mv/mixed > rest/hot\nd: cold/C > rest/cold",
    )
    assert found.services()["c"] == "hot"


def test_tempered_loop_returns_to_heater_and_valve() -> None:
    found = _tempered(
        "end: {is: tee}\nsplit: {is: tee}\ncheck: {is: check valve}\njoin: {is: tee}\n",
        """
        loop: row/C > end
        sink-h: end/branch > sink/hot
        back: end/out > split
        home: split/out > heater/return
        to-check: split/branch > check/in
        from-check: check/out > join/branch
        by: cold/C > join/in
        beyond: join/out > sink/cold
        """,
    )
    waters = found.services()
    assert [waters[run] for run in ("loop", "sink-h", "tempered", "lav-h")] == ["hot"] * 4
    assert [waters[run] for run in ("back", "home", "to-check", "from-check")] == ["hot return"] * 4
    assert (waters["by"], waters["beyond"]) == ("cold", "cold")


def test_not_potable_behind_a_backflow_preventer_that_serves_a_boiler() -> None:
    found = house(
        "bfp: {is: backflow preventer, serves: boiler}\nend: {is: cap}\n", "a: cold/B > bfp/in\nb: bfp/out > end"
    )
    assert (found.services()["a"], found.services()["b"]) == ("cold", "not potable")


def test_not_potable_towards_an_end_that_serves_irrigation() -> None:
    found = house(
        "bfp: {is: backflow preventer}\nend: {is: stub-out, serves: irrigation}\n",
        "a: cold/B > bfp/in\nb: bfp/out > end",
    )
    assert found.services()["b"] == "not potable"


def test_a_backflow_preventer_before_the_house_leaves_it_potable() -> None:
    for serves in ("", "serves: none, ", "serves: not known, "):
        parts = f"street: {{is: source}}\nbfp: {{is: backflow preventer, {serves}onto: street}}\nwc: {{is: toilet}}"
        assert net(parts, "a: bfp/out > wc").services() == {"a": "cold"}


def test_a_source_that_is_not_fit_to_drink() -> None:
    found = net("street: {is: source, potable: false}\nwc: {is: toilet}", "a: street > wc")
    assert found.services() == {"a": "not potable"}


def test_removed_runs_carry_nothing_and_join_nothing() -> None:
    found = house(BATH, "link: hot/C > cold/C | work: removed\nlav-c: cold/B > lav/cold")
    assert "link" not in found.services()
    assert found.traced.crossovers == ()


def test_existing_runs_carry_water() -> None:
    found = house(BATH, "lav-c: cold/B > lav/cold | work: existing")
    assert found.services()["lav-c"] == "cold"


def test_a_run_that_hangs_in_the_air_has_no_water() -> None:
    found = house(BATH + "t: {is: tee}\n", "loose: t/out > lav/cold\nlav-h: hot/A > lav/hot")
    assert found.traced.runs["loose"].service is None
    assert not found.traced.runs["loose"].fed
    assert found.traced.runs["lav-h"].fed
    assert found.zones.unfed == ("lav/cold", "wc/cold", "shower/cold", "shower/hot")


def test_hot_without_a_fed_heater_is_hot_but_not_fed() -> None:
    found = net("street: {is: source}\nheater: {is: water heater}\nlav: {is: lavatory}", "a: heater/hot > lav/hot")
    assert found.traced.runs["a"].service == "hot"
    assert not found.traced.runs["a"].fed


def test_two_heaters_in_series() -> None:
    for order in (
        "one: {is: water heater}\ntwo: {is: water heater}",
        "two: {is: water heater}\none: {is: water heater}",
    ):
        found = net(
            f"street: {{is: source}}\n{order}\nlav: {{is: lavatory}}\nt: {{is: tee}}",
            "a: street > t\nb: t/out > one/cold\nc: one/hot > two/cold\nd: two/hot > lav/hot\ne: t/branch > lav/cold",
        )
        assert found.services() == {"a": "cold", "b": "cold", "c": "hot", "d": "hot", "e": "cold"}
        assert (found.traced.runs["c"].heated_by, found.traced.runs["d"].heated_by) == ("one", "two")
        assert found.traced.crossovers == ()


def test_two_heaters_side_by_side() -> None:
    found = net(
        "street: {is: source}\none: {is: water heater}\ntwo: {is: water heater}\nlav: {is: lavatory}\n"
        "tc: {is: tee}\nth: {is: tee}",
        "a: street > tc\nb: tc/out > one/cold\nc: tc/branch > two/cold\n"
        "d: one/hot > th/in\ne: two/hot > th/branch\nf: th/out > lav/hot",
    )
    assert found.services() == {"a": "cold", "b": "cold", "c": "cold", "d": "hot", "e": "hot", "f": "hot"}
    assert found.traced.crossovers == ()
    assert found.traced.runs["e"].heated_by == "two"
    assert all(carried.fed for carried in found.traced.runs.values())
