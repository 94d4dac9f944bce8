"""Demand against print: curves, fixture-unit totals of houses, a pressure budget, the binomial table of 1940.

Each figure says where it stands and whether it was read or is from memory; what was only computed says so too.
"""

from __future__ import annotations

import pytest

from plancheck.demand.binomial import modified_wistort_m3s, peak_m3s, running, wistort_m3s
from plancheck.demand.curve import Flow, flow_of
from plancheck.demand.studydata import PLACE, USES
from plancheck.demand.units import Units
from tests.demand.houses import GPM, gpm, loads, totals

# 77 Ill. Adm. Code 890, Appendix A, Table N, flush tank: fixture units and gpm (read)
ILLINOIS = [
    (2, 2),
    (4, 3),
    (6, 5),
    (8, 6.5),
    (10, 8),
    (12, 9.2),
    (14, 10.4),
    (16, 11.6),
    (20, 14),
    (25, 17),
    (30, 20),
    (35, 22.5),
    (40, 25),
    (45, 27),
    (50, 29),
    (60, 32),
    (70, 35),
    (80, 38),
    (90, 41),
    (100, 43.5),
    (120, 48),
    (140, 52.5),
    (160, 57),
    (180, 61),
    (200, 65),
    (225, 70),
    (250, 75),
    (275, 80),
    (300, 85),
    (350, 95),
    (400, 105),
    (450, 115),
    (500, 125),
    (600, 145),
    (750, 170),
    (1000, 208),
    (1250, 240),
    (1500, 267),
    (1750, 294),
    (2000, 320),
]
# National Standard Plumbing Code, Table B.5.4, flush tank and flush valve, the rows that were seen (read)
NSPC_TANK = [
    (3, 3),
    (4, 4),
    (5, 4.5),
    (6, 5),
    (7, 6),
    (8, 7),
    (9, 7.5),
    (10, 8),
    (11, 8.5),
    (12, 9),
    (13, 10),
    (14, 10.5),
    (120, 49),
    (140, 53),
    (160, 57),
    (180, 61),
    (200, 65),
    (225, 70),
    (250, 75),
    (300, 85),
    (400, 105),
    (500, 125),
    (750, 170),
    (1000, 210),
]
NSPC_VALVE = [
    (5, 22),
    (6, 23),
    (7, 24),
    (8, 25),
    (9, 26),
    (10, 27),
    (11, 28),
    (12, 29),
    (13, 29.5),
    (14, 30),
    (120, 74),
    (140, 78),
    (160, 83),
    (180, 87),
    (200, 91),
    (225, 95),
    (250, 100),
    (300, 110),
    (400, 125),
    (500, 140),
    (750, 175),
    (1000, 210),
]


def flow_gpm(family: str, total: float, flush_valves: bool = False) -> float:
    found = flow_of(Units(family, 0.0, 0.0, total, flush_valves))
    assert isinstance(found, Flow)
    return found.m3s / GPM


@pytest.mark.parametrize(("load", "expected"), ILLINOIS)
def test_upc_curve_at_every_printed_row(load: float, expected: float) -> None:
    assert flow_gpm("upc", load) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("load", "expected"), NSPC_TANK)
def test_upc_curve_near_another_print_of_hunters_curve(load: float, expected: float) -> None:
    """Two codes draw the same curve and round it apart: within a gallon, or one part in a hundred."""
    assert flow_gpm("upc", load) == pytest.approx(expected, abs=max(1.0, 0.01 * expected))


def test_upc_chart_as_a_user_read_it() -> None:
    """68.5 units to 35 gpm on UPC Chart A 103.1 (a user's reading, read)."""
    assert flow_gpm("upc", 68.5) == pytest.approx(35, abs=0.5)


@pytest.mark.parametrize("family", ["irc", "ipc"])
@pytest.mark.parametrize(
    ("load", "expected"), [row for row in ILLINOIS if 60 <= row[0] <= 300] + [(400, 105), (750, 170), (1000, 208)]
)
def test_icc_tank_column_agrees_with_illinois_from_60_on(family: str, load: float, expected: float) -> None:
    """The ICC column is from memory; from 60 units on it is known to print the figures that were read in Table N."""
    assert flow_gpm(family, load) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("load", "expected"),
    [(5, 9.4), (10, 14.6), (14, 17.0), (20, 19.6), (40, 26.3), (100, 43.5), (500, 124), (5000, 593)],
)
def test_icc_tank_column_rows(load: float, expected: float) -> None:
    """IPC Table E103.3(3) (from memory)."""
    assert flow_gpm("ipc", load) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("load", "expected"), [row for row in NSPC_VALVE if row[0] >= 10])
def test_icc_valve_column_near_nspc(load: float, expected: float) -> None:
    """From memory against read; the two codes smooth the curve each its own way, within 5 parts in a hundred."""
    assert flow_gpm("ipc", load, True) == pytest.approx(expected, rel=0.055)


# IPC Appendix E and IRC Appendix P, sizing example in copper L, flush valve column (from memory):
# section, fixture units, gpm, feet of pipe and of fittings, nominal bore in inches, psi per 100 ft, psi lost
COLD = [
    (288, 108.0, 54, 15.0, 2.465, 3.2, 2.21),
    (264, 104.5, 8, 0.5, 2.465, 3.1, 0.26),
    (132, 77.0, 13, 7.0, 2.465, 1.9, 0.38),
    (132, 77.0, 150, 12.0, 2.465, 1.9, 3.08),
]
HOT = [
    (288, 108.0, 54, 15.0, 2.465, 3.2, 2.21),
    (24, 38.0, 8, 7.5, 1.985, 1.4, 0.22),
    (12, 28.6, 13, 4.0, 1.505, 3.2, 0.54),
    (12, 28.6, 150, 7.0, 1.505, 3.2, 5.02),
]
AVAILABLE_PSI = 9.36


@pytest.mark.parametrize(("load", "expected"), [row[:2] for row in COLD + HOT])
def test_icc_example_rounds_up_to_the_next_row(load: float, expected: float) -> None:
    assert flow_gpm("ipc", load, True) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("sections", "used", "left"), [(COLD, 5.93, 3.43), (HOT, 7.99, 1.37)])
def test_icc_example_budget_with_our_flows(sections: list[tuple[float, ...]], used: float, left: float) -> None:
    """Our flows, Hazen-Williams between the roughness 138 and 146 that the example's chart amounts to: the printed loss
    lies between, and so does what is left of the printed pressure."""
    assert 55.00 - 15.00 - 11.00 - 1.61 - round(21 * 0.43, 2) - 9.00 == pytest.approx(AVAILABLE_PSI)
    losses = []
    for smooth in (138, 146):
        psi = 0.0
        for units, _, pipe, fittings, bore, _, _ in sections:
            per_ft = 4.52 * flow_gpm("ipc", units, True) ** 1.85 / (smooth**1.85 * bore**4.87)
            psi += (pipe + fittings) * per_ft
        losses.append(psi)
    assert losses[1] < used < losses[0]
    assert AVAILABLE_PSI - losses[0] < left < AVAILABLE_PSI - losses[1]


@pytest.mark.parametrize("section", COLD + HOT)
def test_icc_example_prints_length_by_loss(section: tuple[float, ...]) -> None:
    """The printed figures close among themselves, so they are recalled right."""
    _, _, pipe, fittings, _, per_100_ft, lost = section
    assert (pipe + fittings) * per_100_ft / 100 == pytest.approx(lost, abs=0.0051)


def fixtures(**kinds: int) -> str:
    """Parts of these kinds, each in no room."""
    lines = []
    for kind, count in kinds.items():
        lines += [f"{kind.replace('_', '-')}-{n}: {{is: {kind.replace('_', ' ')}}}" for n in range(count)]
    return "\n".join(lines)


def test_upc_two_dwellings() -> None:
    """A user's work by UPC Appendix A for two dwellings (read): 68.5 fixture units, 35 gpm. Dishwashers count."""
    found = totals(
        fixtures(clothes_washer=2, toilet=10, lavatory=10, shower=8, kitchen_sink=2, dishwasher=2, hose_outlet=2), "upc"
    )
    assert found.single.total == pytest.approx(68.5)
    assert found.grouped.total == pytest.approx(68.5 - 2 * 1.5)  # the sink's row stands for its dishwasher
    assert flow_gpm("upc", found.single.total) == pytest.approx(35, abs=0.5)


def test_upc_house_of_two_baths() -> None:
    """Kitchen sink and two baths each with lavatory, toilet, tub with shower (a trade page, read): 16.5."""
    found = totals(fixtures(kitchen_sink=1, lavatory=2, toilet=2, tub_and_shower=2), "upc")
    assert found.single.total == found.grouped.total == pytest.approx(16.5)


def bathroom(place: str) -> str:
    kinds = ("toilet", "lavatory", "bathtub")
    return "".join(f"{kind}-{place}: {{is: {kind}, place: {place}}}\n" for kind in kinds)


@pytest.mark.parametrize(("places", "expected"), [(("bath", "hall"), 14.2), (("bath", "hall", "powder"), 17.8)])
def test_ipc_house(places: tuple[str, ...], expected: float) -> None:
    """A house by 2015 IPC Table E103.3(2) (a forum, read): groups, sink, dishwasher, tray, washer, and a bar sink that
    the writer counts as a second kitchen sink."""
    rest = fixtures(kitchen_sink=2, dishwasher=1, laundry_tray=1, clothes_washer=1)
    assert totals("".join(map(bathroom, places)) + rest, "ipc").grouped.total == pytest.approx(expected)


DRAWS = [("8 gpm", 1), ("1 gpm", 2), ("0.75 gpm", 1), ("0.5 gpm", 1), ("2 gpm", 1)]


@pytest.mark.parametrize(("more", "expected"), [([], 13.25), ([("5 gpm", 1)], 18.25)])
def test_stated_draws_add_up_as_in_a_private_water_system(more: list[tuple[str, int]], expected: float) -> None:
    """EPA-hosted text on private water systems (read): tub, two lavatories, toilet, sink, dishwasher; sprinkler."""
    draws = [flow for flow, count in DRAWS + more for _ in range(count)]
    ports = ", ".join(f"{n}: {{}}" for n in range(len(draws)))
    parts = f"street: {{is: source}}\nrow: {{is: manifold, shape: straight, ports: {{in: {{use: feed}}, {ports}}}}}\n"
    parts += "\n".join(f"d{n}: {{is: rest of house, hot: none, draw: {flow}}}" for n, flow in enumerate(draws))
    lines = "entry: street > row/in\n" + "\n".join(f"r{n}: row/{n} > d{n}/cold" for n in range(len(draws)))
    load = loads(parts, lines, "upc")["entry"]
    assert gpm(load.by_units.flow_m3s) == pytest.approx(expected)
    assert gpm(load.by_binomial.flow_m3s) == pytest.approx(expected)


# R. Hunter's method of 1940 (NBS BMS65, method from memory; figures computed independently with scipy, not printed):
# flow and probability of one fixture, then fixtures, fixtures running, gpm
HUNTER = [
    (27, 9 / 300, [(1, 1, 27), (5, 1, 27), (10, 2, 54), (20, 3, 81), (50, 5, 135), (100, 8, 216)]),
    (4, 60 / 300, [(1, 1, 4), (2, 2, 8), (5, 3, 12), (10, 5, 20), (20, 8, 32), (50, 17, 68), (100, 30, 120)]),
    (8, 60 / 900, [(5, 2, 16), (10, 3, 24), (50, 8, 64), (100, 13, 104)]),
]


@pytest.mark.parametrize(("q", "p", "table"), HUNTER)
def test_hunters_binomial_table(q: int, p: float, table: list[tuple[int, int, int]]) -> None:
    """The least number of fixtures that is passed no more than once in a hundred."""
    for fixtures_, most, flow in table:
        chances = running(fixtures_, p)
        passed = {on: sum(chance for other, chance in chances if other > on) for on, _ in chances}
        least = min(on for on, chance in passed.items() if chance <= 0.01)
        assert (least, least * q) == (most, flow)


# Six groups computed independently from the table's p and q on a grid of 0.1 gpm: not published anywhere.
# fixtures, exact with no flow left out, Wistort, modified Wistort (gpm)
NAMES = {"wc": "toilet", "lav": "lavatory", "tub": "bathtub", "both": "tub and shower", "sink": "kitchen sink"}
COMPUTED = [
    ("both 1, lav 1, wc 1, sink 1, dishwasher 1, clothes washer 1", 9.0, 4.24, 7.86),
    ("both 2, lav 2, wc 2, sink 1, dishwasher 1, clothes washer 1", 11.0, 5.71, 9.02),
    ("both 2, lav 3, wc 3, sink 1, dishwasher 1, clothes washer 1, laundry tray 1", 11.0, 5.93, 8.96),
    ("both 1, lav 1, wc 1", 7.0, 3.40, 8.45),
    ("tub 1, shower 2, lav 4, wc 3, sink 1, dishwasher 1, clothes washer 1", 7.0, 3.83, 5.77),
    ("both 45, lav 45, wc 45, sink 45, dishwasher 45, clothes washer 45", 54.5, 51.65, 51.63),
]


@pytest.mark.parametrize(("group", "exact", "wistort", "modified"), COMPUTED)
def test_groups_computed_independently(group: str, exact: float, wistort: float, modified: float) -> None:
    counts = [0] * len(USES)
    for one in group.split(", "):
        name, _, count = one.rpartition(" ")
        counts[PLACE[NAMES.get(name, name)]] = int(count)
    many = tuple(counts)
    assert peak_m3s(many) == pytest.approx(exact * GPM, rel=1e-9)
    assert wistort_m3s(many) / GPM == pytest.approx(wistort, abs=0.0051)
    assert modified_wistort_m3s(many) / GPM == pytest.approx(modified, abs=0.0051)
