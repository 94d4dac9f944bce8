"""Causes of a reading: each put into a house by hand, and found again with its figure from the reading it gives."""

from functools import lru_cache
from pathlib import Path

import pytest

from plancheck.check import facts_of
from plancheck.flow.apart import next_port, told_apart
from plancheck.flow.causes import Cause, causes, shifted
from plancheck.flow.devices import quadratic_of_k
from plancheck.flow.flow import Flow
from plancheck.flow.gauge import predicted
from plancheck.hydraulics.plain import Law, Quadratic, Regulator
from plancheck.model import Ref
from plancheck.reading import read_plan

PSI = 6894.757293168
PLAN = Path(__file__).parents[2] / "sample_plans" / "boathouse.plan.yaml"
PORT = Ref("cold-ring", "T")


@lru_cache
def house() -> Flow:
    return facts_of(read_plan(str(PLAN)), "2026-05-20").flow


def found_for(reads_pa: float, opened: tuple[str, ...]) -> list[Cause]:
    expected = predicted(house(), PORT, opened)
    band = 3 * PSI + 0.25 * expected.friction_pa
    return causes(house(), PORT, opened, reads_pa, expected.pa, band)


def with_words(found: list[Cause], words: str) -> Cause:
    return next(one for one in found if words in one.words)


def test_a_lower_supply_is_found_with_its_pressure() -> None:
    reads = predicted(shifted(house(), -45 * PSI), PORT, ()).pa
    cause = with_words(found_for(reads, ()), "supply is lower")
    assert "41 psi standing instead of 86 psi" in cause.words


def test_a_regulator_set_low_and_one_that_creeps() -> None:
    law = house().edges["regulator"].law
    assert isinstance(law, Regulator)
    for shift, words, figure in ((-12, "set low", "46 psi"), (15, "creeps", "73 psi")):
        laws: dict[str, Law] = {"regulator": law._replace(set_m=law.set_m + shift * PSI / 9797.0)}
        cause = with_words(found_for(predicted(house(), PORT, (), laws).pa, ()), words)
        assert float(cause.words.split("holds ")[1].split(" ")[0]) == pytest.approx(58 + shift, abs=0.2), figure


def test_the_main_valve_half_shut_is_found_though_the_service_was_measured_as_one() -> None:
    name = "the supply as measured"
    law = house().edges[name].law
    assert isinstance(law, Quadratic)
    bore = house().house.pieces["main-valve"].bore_m
    assert bore is not None
    laws: dict[str, Law] = {name: Quadratic(law.r + quadratic_of_k(3000.0, bore))}
    reads = predicted(house(), PORT, ("wr-wc",), laws).pa
    cause = with_words(found_for(reads, ("wr-wc",)), "main-valve is partly shut")
    times = float(cause.words.split("takes ")[1].split(" ")[0].replace(",", ""))
    assert times == pytest.approx(3000 / 0.1, rel=0.02)
    assert cause.reading(PORT, ("wr-wc",)) == pytest.approx(reads, abs=0.01 * PSI)


def test_an_outlet_that_runs_is_found_and_its_port_named() -> None:
    reads = predicted(house(), PORT, ("garden-hose", "washer")).pa
    found = found_for(reads, ("garden-hose",))
    cause = with_words(found, "washer runs")
    assert cause.off_pa == pytest.approx(0.0, abs=0.01 * PSI)
    assert next_port(house(), PORT, [cause]) == "cold-ring/D"


def test_heated_water_without_room_raises_a_standing_gauge() -> None:
    found = found_for(80 * PSI, ())
    assert with_words(found, "tank has lost its charge")
    assert not any("runs" in one.words for one in found)


def test_a_reading_is_named_that_tells_the_first_two_apart() -> None:
    reads = predicted(shifted(house(), -45 * PSI), PORT, ()).pa
    found = found_for(reads, ())
    apart = told_apart(house(), PORT, (), found)
    assert apart is not None
    assert apart.spread_pa > 1 * PSI  # less is no reading to rely on
    assert len(apart.readings) >= 2
    for words, pa in apart.readings:
        assert pa == pytest.approx(with_words(found, words).reading(PORT, apart.opened))


def test_every_cause_gives_the_reading_it_explains() -> None:
    expected = predicted(house(), PORT, ("garden-hose",))
    for off in (-6, -12, -20):
        for cause in found_for(expected.pa + off * PSI, ("garden-hose",)):
            reading = cause.reading(PORT, ("garden-hose",))
            assert reading == pytest.approx(expected.pa + off * PSI, abs=cause.off_pa + 0.06 * PSI), cause.words


def test_a_house_open_to_the_street_is_never_called_closed() -> None:
    small = Path(__file__).parents[1] / "cases" / "base" / "small.plan.yaml"
    flow = facts_of(read_plan(str(small)), "2026-05-20").flow
    port = Ref("cold-row", "D")
    expected = predicted(flow, port, ())
    found = causes(flow, port, (), expected.pa + 20 * PSI, expected.pa, 3 * PSI)
    assert with_words(found, "supply is higher")
    assert not any("closed" in one.words for one in found)
