"""Words of the two rules on heat: why it matters at this heater, and nothing said of paths that are not there."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.outcomes import Outcome
from tests.casework import judge, plan_of


def why(heater: dict[str, Any]) -> str:
    """Why the pipe of the small house's heater is too short, the heater's keys changed."""
    changes = {"runs/heater-hot/length": "12 in", **{f"parts/heater/{key}": value for key, value in heater.items()}}
    found = [one.outcome for one in judge(plan_of({"change": changes}), "heater_clearance")]
    return next(one.why for one in found if one.kind == "broken")


@pytest.mark.parametrize(
    ("style", "fuel", "burner", "tank"),
    [
        ("storage", "gas", True, True),
        ("storage", "electric", False, True),
        ("tankless", "electric", False, False),
        ("tankless", "gas", True, False),
        ("indirect", "boiler", False, True),
        ("storage", "heat pump", False, True),
        ("point of use", "electric", False, False),
    ],
)
def test_why_fits_style_and_fuel(style: str, fuel: str, burner: bool, tank: bool) -> None:
    words = why({"style": style, "fuel": fuel})
    assert ("burner" in words, "flue" in words, "tank" in words) == (burner, burner, tank)
    assert "creeps along metal" in words


def test_a_length_of_the_heaters_pipe_is_told_as_it_is_written() -> None:
    found = judge(plan_of({"change": {"runs/heater-hot/length": "455 mm"}}), "heater_clearance")
    broken = [one.outcome for one in found if one.outcome.kind == "broken"]
    assert broken[0].found == "455 mm before plastic begins"
    assert "Put 0.087 in more of metal pipe" in broken[0].mend


def clears(*said: str, **changes: Any) -> Outcome:
    """The answer on the run of the test shed with these distances declared from a lamp that nobody measured."""
    change = {"heat": {"lamp": {"is": "recessed light", "place": "attic"}}, "runs/line/clear": {"lamp": list(said)}}
    found = judge(plan_of({"base": "heat", "change": {**change, **changes}}), "heat_standoff")
    assert len(found) == 1
    return found[0].outcome


def test_two_declared_distances_and_no_path_to_measure_say_nothing_of_paths() -> None:
    found = clears("2 in beside", "11 in above")
    assert found.kind == "broken"
    assert found.found == "2 in beside it"
    assert "as declared" in found.says


def test_a_declared_distance_is_told_as_it_is_written() -> None:
    assert clears("100 mm beside").found == "100 mm beside it"
