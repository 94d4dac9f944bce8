"""Limits at heaters and outlets against the documents named beside each: what was read, and what is from memory."""

from __future__ import annotations

from functools import cache

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules

PSI, GPM, GALLON, INCH = 6894.757293168, 6.30901964e-5, 3.785411784e-3, 0.0254


@cache
def _limits(rule: str) -> dict[str, Limit]:
    found = next(one for one in built_in_rules() if one.id == rule).rule.limits
    return {limit.id: limit for limit in found}


def in_force(rule: str, limit: str, family: str, edition: int = 2021) -> InForce:
    return Limits(family, edition).of(_limits(rule)[limit])


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(
    ("family", "clause", "status"),
    [("irc", "P2708.4", "read"), ("ipc", "412.3", "read"), ("upc", "408.3", "read")],
)
def test_hottest_shower(family: str, clause: str, status: str) -> None:
    """120 degF (49 degC): IRC P2708.4 (2015 to 2021, read), IPC 412.3 (424.3 to 2015, read), UPC 408.3 (2015, read)."""
    found = in_force("shower_protection", "stop", family)
    assert found.number == pytest.approx(48.889, abs=0.001)
    assert clause in found.source.clause
    assert found.source.read == status
    assert not found.practice


@pytest.mark.parametrize(
    ("family", "clause", "status"),
    [("ipc", "408.3", "read"), ("irc", "P2721.2", "from memory"), ("upc", "410.3", "from memory")],
)
def test_hottest_bidet(family: str, clause: str, status: str) -> None:
    """110 degF (43 degC): IPC 408.3, read; IRC P2721.2 and UPC 410.3 (2021), from memory."""
    found = in_force("shower_protection", "bidet", family)
    assert found.number == pytest.approx(43.333, abs=0.001)
    assert (found.source.clause, found.source.read) == (clause, status)


@pytest.mark.parametrize(
    ("family", "clause", "status"),
    [("ipc", "412.5", "read"), ("upc", "409.4", "read"), ("irc", "P2713.3", "from memory")],
)
def test_tubs_have_a_limiter(family: str, clause: str, status: str) -> None:
    """A tub without a shower valve: ASSE 1070. IPC 412.5 and UPC 409.4 (2021), read; IRC P2713.3, from memory."""
    found = in_force("shower_protection", "limiter", family)
    assert "ASSE 1070" in str(found.value)
    assert (found.source.clause, found.source.read) == (clause, status)


def test_only_the_upc_asks_protection_at_the_flow_of_the_head() -> None:
    """UPC 408.3 (2015, read): the valve works at the rated flow of the installed head. Elsewhere it is practice."""
    assert not in_force("shower_protection", "flow", "upc").practice
    assert in_force("shower_protection", "flow", "upc").source.clause == "408.3"
    assert in_force("shower_protection", "flow", "irc").practice
    assert in_force("shower_protection", "flow", "ipc").practice


@pytest.mark.parametrize(
    ("family", "clause", "status"),
    [("irc", "P2804.3", "read"), ("ipc", "504.5", "read"), ("upc", "504.6", "from memory")],
)
def test_relief_valves_open_by_150_psi(family: str, clause: str, status: str) -> None:
    """150 psi (1034 kPa): IRC P2804.3 to .5 and IPC 504.4 to .5, read; UPC from memory."""
    found = in_force("relief_valve", "pressure", family)
    assert found.number == pytest.approx(1034214, abs=1)
    assert (found.source.clause, found.source.read) == (clause, status)


@pytest.mark.parametrize("family", ["irc", "ipc", "upc"])
def test_relief_valves_open_by_210_degrees(family: str) -> None:
    """210 degF (98.9 degC) in the model text; one city's copy prints 200. Read for IRC and IPC, UPC from memory."""
    assert in_force("relief_valve", "temperature", family).number == pytest.approx(98.889, abs=0.001)


@pytest.mark.parametrize(("family", "clause"), [("irc", "P2804.6.1"), ("ipc", "504.6")])
def test_relief_pipes_end_at_most_6_inches_above_the_floor(family: str, clause: str) -> None:
    """At most 6 in above floor or receptor; from 2018 on at least two pipe diameters: IRC P2804.6.1, IPC 504.6, read."""
    assert in_force("relief_discharge", "most", family).number == pytest.approx(0.1524)
    assert in_force("relief_discharge", "most", family).source.clause == clause
    assert in_force("relief_discharge", "least", family, 2015).number == 0.0
    assert in_force("relief_discharge", "least", family, 2018).number == 2.0
    assert in_force("relief_discharge", "least", family, 2021).number == 2.0


def test_relief_pipes_outdoors_under_the_upc() -> None:
    """UPC 608.5 (2015, read): 6 in to 2 ft above ground, pointing down."""
    assert in_force("relief_discharge", "out_least", "upc").number == pytest.approx(6 * INCH)
    assert in_force("relief_discharge", "out_most", "upc").number == pytest.approx(24 * INCH)
    assert in_force("relief_discharge", "out_most", "upc").source.clause == "608.5"


@pytest.mark.parametrize("family", ["irc", "ipc"])
def test_pans_may_take_a_relief_pipe_in_newer_editions(family: str) -> None:
    """The list with the pan was read in 2015 text; that older lists lack it is from memory."""
    assert "pan" in str(in_force("relief_discharge", "into", family, 2018).value)
    assert in_force("relief_discharge", "into", family, 2018).source.read == "read"
    assert "pan" not in str(in_force("relief_discharge", "into", family, 2012).value)
    assert in_force("relief_discharge", "into", family, 2012).source.read == "from memory"


def test_relief_pipes_of_pex_are_one_size_larger() -> None:
    """IRC P2804.6.1: with PEX or PE-RT (2015), with insert fittings (IPC 2018), one size larger, end fastened; read."""
    assert "one size larger" in str(in_force("relief_discharge", "larger", "irc").value)
    assert "one size larger" in str(in_force("relief_discharge", "larger", "ipc").value)
    assert "hard copper" in str(in_force("relief_discharge", "larger", "upc").value)
    assert in_force("relief_discharge", "larger", "upc").practice


@pytest.mark.parametrize(("family", "clause"), [("irc", "P2801.6.1"), ("ipc", "504.7")])
def test_pans_are_an_inch_and_a_half_deep(family: str, clause: str) -> None:
    """1-1/2 in (38 mm): IRC P2801.6.1 and IPC 504.7, read."""
    found = in_force("heater_pan", "depth", family)
    assert found.number == pytest.approx(0.0381)
    assert (found.source.clause, found.source.read) == (clause, "read")


@pytest.mark.parametrize(
    ("family", "clause", "status"),
    [("irc", "P2801.6", "read"), ("ipc", "504.7", "read"), ("upc", "507.5", "read")],
)
def test_who_asks_for_a_pan(family: str, clause: str, status: str) -> None:
    """IRC P2801.6, IPC 504.7, UPC 507.5 (2021; its wording is disputed where it was read)."""
    found = in_force("heater_pan", "pan", family)
    assert (found.source.clause, found.source.read) == (clause, status)


@pytest.mark.parametrize(
    ("limit", "value", "kind", "status"),
    [
        ("head", 2.5 * GPM, "irc", "read"),
        ("faucet", 2.2 * GPM, "irc", "read"),
        ("flush", 1.6 * GALLON, "irc", "read"),
        ("head", 2.5 * GPM, "ipc", "from memory"),
        ("faucet", 2.2 * GPM, "upc", "from memory"),
        ("flush", 1.6 * GALLON, "upc", "from memory"),
    ],
)
def test_maxima_of_outlets(limit: str, value: float, kind: str, status: str) -> None:
    """IRC P2903.2, read: head 2.5 gpm at 80 psi, basin and sink 2.2 gpm at 60 psi, toilet 1.6 gal. IPC, UPC from memory."""
    found = in_force("outlet_maximum", limit, kind)
    assert found.number == pytest.approx(value)
    assert found.source.read == status


def test_federal_law_of_1994_stands_in_for_a_code() -> None:
    """The federal figures since 1994: 2.5 and 2.2 gpm, 1.6 gal, urinals 1.0 gal; read."""
    values = {id_: Limits(None, None).of(limit) for id_, limit in _limits("outlet_maximum").items()}
    assert {
        id_: round(one.number / (GPM if id_ in ("head", "faucet") else GALLON), 3) for id_, one in values.items()
    } == {
        "head": 2.5,
        "faucet": 2.2,
        "flush": 1.6,
        "urinal": 1.0,
    }
    assert all(one.source.edition == "1994" and one.practice for one in values.values())


def test_advised_and_stored_temperatures() -> None:
    """120 degF: paediatricians' and energy agencies' advice, read. 140 degF under the IPC: a city's copy was read, the
    section of the model text is from memory. Growth from 68 to 122 degF, read: a store under 120 is lukewarm."""
    assert in_force("heater_setting", "advised", "irc").number == pytest.approx(celsius(120))
    assert in_force("heater_setting", "advised", "irc").practice
    assert in_force("heater_setting", "hottest", "ipc").number == pytest.approx(celsius(140))
    assert in_force("heater_setting", "hottest", "ipc").source.read == "from memory"
    assert in_force("heater_setting", "stored", "upc").number == pytest.approx(celsius(120))
    assert celsius(68) < in_force("heater_setting", "stored", "upc").number < celsius(122)


@pytest.mark.parametrize(
    ("rule", "limit", "family", "clause", "status"),
    [
        ("hose_breaker", "breaker", "irc", "P2902.4.3", "read"),
        ("hose_breaker", "breaker", "ipc", "608", "from memory"),
        ("hose_breaker", "breaker", "upc", "603.5", "from memory"),
        ("backflow_device", "device", "irc", "Table P2902.3", "read"),
        ("backflow_device", "device", "ipc", "608.17", "from memory"),
        ("mixing_valve_role", "back", "ipc", "607.2.2", "read"),
        ("hot_on_left", "left", "upc", "601.3", "read"),
        ("hot_on_left", "left", "irc", "P2722.2", "read"),
        ("fixture_sides", "needed", "upc", "601.1", "read"),
        ("fixture_sides", "needed", "irc", "R306.4", "from memory"),
        ("hot_cold_crossover", "apart", "ipc", "604", "read"),
        ("heater_service", "flush", "irc", "chapter 5", "read"),
    ],
)
def test_where_the_words_stand(rule: str, limit: str, family: str, clause: str, status: str) -> None:
    """Demands without a number: the clause each is known from, and whether its text was read."""
    found = in_force(rule, limit, family)
    assert clause in found.source.clause
    assert found.source.read == status


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("ASSE 1016", {"1016"}),
        ("ASSE 1016/ASME A112.1016/CSA B125.16", {"1016"}),  # harmonised in 2017
        ("CSA B125.3", {"1070"}),  # IPC 412.5 names both
        ("CSA B125.70", {"1070"}),
        ("asse1019-b", {"1019"}),
        ("ASSE 1017 1070", {"1017", "1070"}),
        ("EN 1111", set()),
        ("ASME A112.18.1", set()),
    ],
)
def test_twins_of_device_standards(text: str, numbers: set[str]) -> None:
    """ASSE 1016 = ASME A112.1016 = CSA B125.16, ASSE 1070 = A112.1070 = B125.70 (read in their titles)."""
    from plancheck.standards import numbers_in

    assert numbers_in(text) == numbers


def test_what_each_use_takes() -> None:
    """IRC Table P2902.3, read: ASSE 1012 and 1015 for low hazard alone, the air gap for any. 1013 for any, and the list for
    irrigation (P2902.5.3, seen in an amended copy alone), from memory."""
    from plancheck.rules import backflow_device

    allowed = backflow_device._ALLOWED
    for use in ("boiler with additives", "pool", "chemical feeder"):
        assert set(allowed[use]) == {"1013", "air gap"}
    assert "1012" in allowed["boiler"]
    assert {"1001", "1020", "1056", "1013"} == set(allowed["irrigation"])
    assert "1015" not in allowed["irrigation"]
