"""One cause, one finding: thin services, houses without a main, loops that are too hot."""

from __future__ import annotations

from pathlib import Path

from tests.casework import CASES, load
from tests.rules.test_material_ties import findings, under

THIN = ("service_size", "/runs/service")


def test_a_thin_service_is_told_once_and_what_it_cannot_carry_hangs_under_it(tmp_path: Path) -> None:
    tube = {"tubes/service-tube": {"material": "PEX-A", "size": "16 mm", "wall": "2.2 mm"}}
    found = [one for one in findings(tmp_path, tube, "twobath") if (one.rule, one.path) == THIN]
    assert [one.says.partition(" is ")[0] for one in found if not one.under] == ["service"]
    assert len(found) == 3
    first = next(one.number for one in found if not one.under)
    assert {one.under for one in found if one.under} == {first}


def test_without_a_main_the_gauge_is_a_consequence(tmp_path: Path) -> None:
    changes = load(CASES / "test_port/lavatory_ahead_of_every_valve.yaml")["change"]
    found = findings(tmp_path, changes)
    assert under(found, "branch_shutoff", "/parts") is None
    assert under(found, "test_port", "/parts") == ("branch_shutoff", "/parts")


def test_a_loop_that_is_too_hot_follows_from_the_setting(tmp_path: Path) -> None:
    found = findings(tmp_path, {"parts/heater/set": "141 degF"}, "loop")
    setting = ("heater_setting", "/parts/heater/set")
    assert under(found, *setting) is None
    assert under(found, "circulation_loop", "/parts/heater/set") == setting
    assert under(found, "recirculation_class", "/tubes/red") == setting


def test_of_two_labels_that_were_exchanged_the_first_is_told(tmp_path: Path) -> None:
    changes = load(CASES / "port_labels/labels_exchanged.yaml")["change"]
    found = findings(tmp_path, changes, load(CASES / "port_labels/labels_exchanged.yaml").get("base", "small"))
    first = ("port_labels", "/parts/cold-row/ports/B")
    assert under(found, *first) is None
    assert under(found, "port_labels", "/parts/cold-row/ports/C") == first
