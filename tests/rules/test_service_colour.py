"""One cause, one finding: what of the colour findings follows from which, and that a long house stays quick."""

from __future__ import annotations

from typing import Any

from plancheck.report.assemble import pointer
from tests.casework import judge, plan_of
from tests.network import long_plans


def causes(changes: dict[str, Any]) -> dict[str, str | None]:
    """Path of each finding -> the path it follows from, None for a root."""
    return _causes(plan_of({"change": changes}))


def _causes(plan: dict[str, Any]) -> dict[str, str | None]:
    found = (one for one in judge(plan, "service_colour") if one.outcome.kind == "broken")
    return {pointer(one.subject.path): pointer(one.outcome.cause) if one.outcome.cause else None for one in found}


PORT = "/parts/hot-row/ports/A"  # where the sides of the fixtures on it are told to be crossed


def test_a_circuit_crossed_at_its_port_has_its_first_run_as_root() -> None:
    found = causes({"runs/bath-cold/from": "hot-row/A", "runs/lav-hot/from": "cold-row/A"})
    rest = ("bath-lav-c", "bath-link", "bath-wc-c", "bath-shower-c")
    assert found == {
        "/runs/bath-cold": PORT,
        "/runs/lav-hot": PORT,
        **{f"/runs/{run}": "/runs/bath-cold" for run in rest},
    }


def test_the_root_is_the_run_at_the_port_wherever_it_stands_in_the_file() -> None:
    plan = plan_of({"change": {"runs/bath-cold/from": "hot-row/A", "runs/lav-hot/from": "cold-row/A"}})
    plan["runs"] = dict(reversed(plan["runs"].items()))
    assert _causes(plan)["/runs/bath-shower-c"] == "/runs/bath-cold"
    assert _causes(plan)["/runs/bath-cold"] == PORT


def test_a_run_written_backwards_changes_nothing() -> None:
    turned = {"from": "bath-tee/in", "to": "hot-row/A", "tube": "blue", "length": "13 ft", "rise": "-4 ft 8 in"}
    found = causes({"runs/bath-cold": turned, "runs/lav-hot/from": "cold-row/A"})
    assert found["/runs/bath-link"] == "/runs/bath-cold"


def test_two_branches_pulled_in_red_apart_are_two_roots() -> None:
    found = causes({"runs/bath-lav-c/tube": "red", "runs/bath-wc-c/tube": "red"})
    assert found == {"/runs/bath-lav-c": None, "/runs/bath-wc-c": None}


def test_a_red_branch_and_what_hangs_on_it_are_one_root() -> None:
    found = causes({"runs/bath-link/tube": "red", "runs/bath-wc-c/tube": "red"})
    assert found == {"/runs/bath-link": None, "/runs/bath-wc-c": "/runs/bath-link"}


def test_purple_tube_is_one_thing_to_pull_out() -> None:
    purple = {"tubes/purple": {"like": "blue", "colour": "purple"}}
    found = causes({**purple, "runs/bath-wc-c/tube": "purple", "runs/hose-cold/tube": "purple"})
    assert found == {"/runs/hose-cold": None, "/runs/bath-wc-c": "/runs/hose-cold"}


def test_two_stocks_of_heating_tube_are_two_roots() -> None:
    odd = {"material": "PEX-A", "size": "1/2", "colour": "orange", "print": ["ASTM F876"]}
    tubes = {"tubes/one": odd, "tubes/two": odd, "runs/bath-wc-c/tube": "one", "runs/hose-cold/tube": "two"}
    assert causes(tubes) == {"/runs/hose-cold": "/tubes/two/print", "/runs/bath-wc-c": "/tubes/one/print"}


def test_water_that_is_not_for_drinking_is_told_at_the_first_run_that_leads_to_no_tap() -> None:
    away = {"parts/bath-tee": {"is": "tee", "place": "bath"}, "parts/lav": None, "parts/shower": None}
    runs = dict.fromkeys(("runs/bath-lav-c", "runs/bath-shower-c", "runs/lav-hot", "runs/shower-hot"))
    found = causes({"parts/street/potable": False, **away, **runs})
    assert found["/runs/bath-link"] == found["/runs/bath-wc-c"] == "/runs/bath-cold"


def test_a_long_house_piped_in_the_wrong_colour_has_one_root_in_either_order() -> None:
    plan = long_plans.tees_in_series(1000)
    plan["tubes"]["t"]["colour"] = "red"
    for backwards in (False, True):
        if backwards:
            plan["runs"] = dict(reversed(plan["runs"].items()))
        found = _causes(plan)
        assert found.pop("/runs/entry") is None
        assert set(found.values()) == {"/runs/entry"}
        assert len(found) == 2002
