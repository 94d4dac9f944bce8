"""`shutoff` as a user meets it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from tests.command.test_flow import ROOT, run

HOUSE = "sample_plans/boathouse.plan.yaml"


def shutoff(*arguments: str, **environment: str) -> str:
    done = run("shutoff", *arguments, **environment)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_every_valve_and_every_outlet_is_listed() -> None:
    text = shutoff(HOUSE)
    for words in (
        "main-valve: the main shutoff, ball; workshop; in reach\n  dry   the whole house",
        "cold-ring/A: port valve, marked Wet room; workshop; in reach\n  dry   Wet room: wr shower (cold), wr lav (cold)",
        "slip-stop: valve, ball; workshop; in reach\n  dry   slipway: slip hose\n  next  cold-ring/G",
        "Test and spare ports, which dry nothing: street-gauge, cold-ring/T, cold-ring/S.",
        "g wc: g-wc/cold; next cold-ring/B, then main-valve",
        "A listed shutoff may not hold",
        "turn off its power or gas",
    ):
        assert words in text


def test_one_valve_closed() -> None:
    text = shutoff(HOUSE, "hot-row/A")
    assert "Goes dry: Wet room: wr shower (hot), wr lav (hot)." in text
    assert "if it will not close: heater-valve" in text
    assert "Stays wet:" in text
    assert "Valves, and what goes dry" not in text


def test_two_valves_closed_together() -> None:
    assert "Goes dry: Wet room: wr shower, wr lav, wr wc." in shutoff(HOUSE, "hot-row/A", "cold-ring/A")


def test_a_place_is_isolated_by_its_two_ports() -> None:
    text = shutoff(HOUSE, "--place", "wet-room")
    assert "To keep all water from Wet room" in text
    assert (
        "The fewest valves: hot-row/A and cold-ring/A." in text
        or "The fewest valves: cold-ring/A and hot-row/A." in text
    )
    assert "also dry: nothing" in text


def test_a_fixture_is_isolated_by_its_stops_and_its_pipe_by_the_ports() -> None:
    text = shutoff(HOUSE, "--fixture", "wr-lav")
    assert "The fewest valves: wr-lav/cold and wr-lav/hot." in text
    cut = text.partition("To cut the pipe ahead of the stops")[2]
    assert "cold-ring/A" in cut.partition("Cautions")[0]
    assert "also dry: Wet room: wr shower, wr wc" in cut


def test_a_link_of_hot_and_cold_is_told() -> None:
    text = shutoff("sample_plans/apprentice.plan.yaml", "hot-row/A")
    assert "Hot and cold are joined by link" in text


def test_a_segment_of_the_ring_tells_sides_and_pressure() -> None:
    text = shutoff(HOUSE, COLUMNS="200")
    between = text.partition("Between cold-ring/B and cold-ring/C, no valve in it\n")[2]
    assert between.startswith(
        "  nothing goes dry; on one side of the feed only: A, B; on the other: S, T, H, G, F, E, D, C\n  cold-ring/C loses most: "
    )
    assert " psi while the house draws its peak" in between.splitlines()[1]


def test_json_follows_its_schema_and_is_the_same_twice() -> None:
    schema = json.loads((ROOT / "schemas" / "shutoff.schema.json").read_text(encoding="utf-8"))
    for plan in ("boathouse", "boathouse-mistakes", "apprentice", "small-flat", "metric-house"):
        said = (f"sample_plans/{plan}.plan.yaml", "--report", "json")
        first = shutoff(*said)
        assert first == shutoff(*said)
        jsonschema.validate(json.loads(first), schema)
    data = json.loads(shutoff(HOUSE, "cold-ring/A", "--place", "guest", "--report", "json"))["shutoff"]
    assert data["closed"]["dry"] == ["wr-shower/cold", "wr-lav/cold", "wr-wc/cold"]
    assert data["isolate"]["ways"][0]["valves"] in (["cold-ring/B", "hot-row/B"], ["hot-row/B", "cold-ring/B"])
    assert not data["rings"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("hot-rw/A",), "there is no valve 'hot-rw/A'\n      did you mean hot-row/A?"),
        (("--place", "wetroom"), "did you mean wet-room?"),
        (("--fixture", "wr-law"), "did you mean wr-lav?"),
    ],
)
def test_a_name_that_is_not_there(arguments: tuple[str, ...], words: str) -> None:
    done = run("shutoff", HOUSE, *arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert done.stdout == ""


def test_out_is_written_whole_and_never_over_the_plan(tmp_path: Path) -> None:
    plan, out = tmp_path / "a.plan.yaml", tmp_path / "out.txt"
    shutil.copy(ROOT / HOUSE, plan)
    assert run("shutoff", str(plan), "--out", str(out)).stdout == ""
    assert "the whole house" in out.read_text(encoding="utf-8")
    before = plan.read_bytes()
    done = run("shutoff", str(plan), "--out", str(plan))
    assert (done.returncode, plan.read_bytes()) == (2, before)
    assert "the plan itself" in done.stderr


@pytest.mark.parametrize("width", [40, 60, 96])
def test_lines_fit_the_width(width: int) -> None:
    for arguments in ((HOUSE,), (HOUSE, "--place", "guest")):
        lines = shutoff(*arguments, COLUMNS=str(width)).splitlines()
        assert max(map(len, lines)) <= width


def test_a_plan_that_cannot_be_read() -> None:
    assert run("shutoff", "sample_plans/none.plan.yaml").returncode == 2
