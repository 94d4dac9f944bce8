"""`flow` and `gauge` as a user meets them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

ROOT = Path(__file__).parents[2]
HOUSE = "sample_plans/boathouse.plan.yaml"


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "plancheck", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
        timeout=120,
        check=False,
    )


def test_every_answer_has_its_table() -> None:
    done = run("flow", HOUSE)
    assert done.returncode == 0, done.stderr
    for title in (
        "What every outlet gets",
        "Peak demand of every run",
        "when something else opens",
        "Does a ring help",
        "How long until hot water comes",
        "Room for heated water",
        "Water hammer",
        "What the gauge should read",
        "Taken, because the plan does not say it",
        "Not modelled",
        "Cautions",
    ):
        assert title in done.stdout


def test_json_follows_its_schema_and_is_the_same_twice() -> None:
    first, second = run("flow", HOUSE, "--report", "json"), run("flow", HOUSE, "--report", "json")
    assert first.stdout == second.stdout
    schema = json.loads((ROOT / "schemas" / "flow.schema.json").read_text(encoding="utf-8"))
    data = json.loads(first.stdout)
    jsonschema.validate(data, schema)
    for table in data["flow"][0]["tables"]:
        assert all(len(row) == len(table["columns"]) for row in table["rows"])
    outlets = data["flow"][0]["tables"][0]
    assert outlets["columns"][1] == {"name": "standing", "unit": "psi"}


@pytest.mark.parametrize("width", [40, 60, 96, 160])
def test_no_line_is_wider_than_asked(width: int) -> None:
    done = run("flow", HOUSE, "sample_plans/metric-house.plan.yaml", COLUMNS=str(width))
    assert done.returncode == 0
    words = [line for line in done.stdout.splitlines() if len(line) > width and " " in line.strip()]
    assert words == []


def test_a_plan_that_says_little_shows_what_is_missing() -> None:
    done = run("flow", "sample_plans/small-flat.plan.yaml")
    assert done.returncode == 0
    assert "Not shown: what the plan does not say" in done.stdout
    assert "parts.basin.height" in done.stdout
    done = run("flow", "sample_plans/apprentice.plan.yaml")
    assert "water.static" in done.stdout


def test_temperatures_are_whole_degrees() -> None:
    data = json.loads(run("flow", HOUSE, "--report", "json").stdout)
    showers = [table for table in data["flow"][0]["tables"] if table["id"].startswith("shower")]
    assert len(showers) == 2
    for table in showers:
        for row in table["rows"]:
            assert all(value == int(value) for value in row[3:7] if not isinstance(value, str))


def test_a_bad_plan_is_told_and_the_good_one_still_answered(tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("plancheck: 1\nruns: {a: 3}\n", encoding="utf-8")
    done = run("flow", str(bad), HOUSE)
    assert done.returncode == 2
    assert "Reedmoor boathouse" in done.stdout
    assert "line 2" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_plan_without_fixtures_or_water(tmp_path: Path) -> None:
    bare = tmp_path / "bare.plan.yaml"
    bare.write_text("plancheck: 1\nparts: {street: {is: source}}\n", encoding="utf-8")
    done = run("flow", str(bare))
    assert done.returncode == 0, done.stderr
    assert "water.static" in done.stdout


def test_out_is_written_whole(tmp_path: Path) -> None:
    file = tmp_path / "answers.txt"
    done = run("flow", HOUSE, "--out", str(file))
    assert (done.returncode, done.stdout) == (0, "")
    assert "What every outlet gets" in file.read_text(encoding="utf-8")


def test_gauge_reads_the_plan_s_own_readings() -> None:
    done = run("gauge", HOUSE)
    assert done.returncode == 0
    assert "first-water at cold-ring/T, with everything shut: 57 psi" in done.stdout
    assert "Inside the band" in done.stdout


def test_gauge_names_causes_and_never_diagnoses() -> None:
    done = run("gauge", HOUSE, "--reads", "48 psi")
    assert done.returncode == 0
    for words in ("lower than expected", "1. ", "Check on site", "To tell them apart", "Then close", "no diagnosis"):
        assert words in done.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--reads", "40"), "has no unit"),
        (("--reads", "48 psi", "--open", "wcc"), "there is no fixture 'wcc'"),
        (("--reads", "48 psi", "--at", "cold-rin"), "there is no part 'cold-rin'"),
        (("--reads", "48 psi", "--at", "cold-ring/Z"), "cold-ring has no connection 'Z'"),
        (("--reads", "48 psi", "--before", "70", "--after", "60"), "--before"),
        (("--reads", "48 psi", "--before", "70 degF"), "one of the two is missing"),
    ],
)
def test_gauge_refuses_what_it_cannot_read(arguments: tuple[str, ...], words: str) -> None:
    done = run("gauge", HOUSE, *arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr
