"""Which valve shuts the house, and what is drawn off ahead of it; the same one for every rule."""

from __future__ import annotations

import json
from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.reading import read_bytes
from tests.casework import CASES, TODAY, changed, load

EARLY = {"parts/early": {"is": "tee", "onto": "meter"}, "parts/main-valve/onto": "early/out"}
HYDRANT = {**EARLY, "parts/hydrant": {"is": "hose outlet", "place": "yard", "onto": "early/branch"}}


def facts(changes: dict[str, Any], base: str = "small") -> Facts:
    plan = changed(load(CASES / "base" / f"{base}.plan.yaml"), changes)
    return facts_of(read_bytes(json.dumps(plan).encode(), "mains.plan.yaml"), TODAY)


@pytest.mark.parametrize("base", ["small", "shutoff_ring", "shutoff_trunk"])
def test_the_main_of_a_sound_house(base: str) -> None:
    found = facts({}, base)
    assert found.shutoffs.mains == ("main-valve",)
    assert found.main_valve == "main-valve"
    assert found.shutoffs.ahead("main-valve") == ((), ())


def test_a_hydrant_ahead_leaves_it_the_main_and_is_told() -> None:
    found = facts(HYDRANT)
    assert found.main_valve == "main-valve"
    assert found.shutoffs.ahead("main-valve") == (("hydrant/cold",), ())


def test_a_hydrant_with_a_valve_of_its_own() -> None:
    valve = {"parts/yard-valve": {"is": "valve", "onto": "early/branch"}, "parts/hydrant/onto": "yard-valve"}
    found = facts({**HYDRANT, **valve})
    assert found.main_valve == "main-valve"
    assert found.shutoffs.ahead("main-valve") == ((), ("hydrant/cold",))


def test_a_tap_indoors_ahead_of_the_valve_leaves_no_main() -> None:
    tray = {"is": "laundry tray", "place": "cellar", "hot": "none", "supply": {"stop": "angle"}}
    run = {"from": "early/branch", "to": "tray/cold", "tube": "blue"}
    found = facts({**EARLY, "parts/tray": tray, "runs/tray-c": run})
    assert found.shutoffs.mains == ()
    assert found.main_valve is None


def test_the_streets_curb_stop_comes_last() -> None:
    found = facts({"parts/curb": {"is": "valve", "style": "curb stop", "onto": "street"}, "runs/service/from": "curb"})
    assert found.shutoffs.mains == ("main-valve", "curb")


def test_a_curb_stop_alone_is_the_main() -> None:
    found = facts({"parts/main-valve": {"is": "valve", "style": "curb stop", "onto": "meter"}})
    assert found.main_valve == "main-valve"


def test_two_valves_in_a_row_stand_in_the_order_of_the_water() -> None:
    found = facts({"parts/second": {"is": "valve", "onto": "main-valve"}, "parts/gauge-tee/onto": "second"})
    assert found.shutoffs.mains == ("main-valve", "second")


def test_a_valve_left_closed_is_no_main() -> None:
    assert facts({"parts/main-valve/normally": "closed"}).main_valve is None


def test_where_everything_is_outdoors_the_main_shuts_all_of_it() -> None:
    plan = {
        "plancheck": 1,
        "tubes": {"t": {"material": "PEX-A", "size": "1/2"}},
        "parts": {
            "street": {"is": "source"},
            "first": {"is": "valve", "onto": "street"},
            "tee": {"is": "tee", "onto": "first"},
            "left-valve": {"is": "valve", "onto": "tee/branch"},
            "left": {"is": "hose outlet"},
            "right": {"is": "hose outlet"},
        },
        "runs": {
            "a": {"from": "left-valve", "to": "left", "tube": "t"},
            "b": {"from": "tee/out", "to": "right", "tube": "t"},
        },
    }
    found = facts_of(read_bytes(json.dumps(plan).encode(), "yard.plan.yaml"), TODAY)
    assert found.shutoffs.mains == ("first",)
