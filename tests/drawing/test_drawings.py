"""The drawings of the samples and of a house of 200 runs: everything once, texts clear, open in any reader of SVG."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import yaml

from plancheck.check import check_source, facts_of
from plancheck.cli import run as command
from plancheck.drawing.branching import tree_of
from plancheck.drawing.kinds import KINDS, supply
from plancheck.drawing.spots import spots_of
from plancheck.drawing.svg import Picture, crosses, overlaps
from plancheck.facts import Facts
from plancheck.reading import read_bytes, read_plan
from plancheck.report.data import PlanReport
from tests.casework import changed
from tests.drawing.apartments import apartments

SVG = "{http://www.w3.org/2000/svg}"
SAMPLES = sorted((Path(__file__).parents[2] / "sample_plans").glob("*.plan.yaml"))
PLANS = {file.name.partition(".")[0]: file for file in SAMPLES}
NAMES = (*PLANS, "apartments")
WALKED = tuple(name for name in NAMES if name != "small-flat")  # no run of the small flat has a path
DRAWN = (*((name, "isometric") for name in WALKED), *((name, "riser") for name in NAMES))


def facts_named(name: str) -> tuple[Facts, PlanReport]:
    """The facts and the report of a sample, or of the nine flats."""
    if name == "apartments":
        source = read_bytes(json.dumps(apartments()).encode(), "flats.plan.json")
    else:
        source = read_plan(str(PLANS[name]))
    return facts_of(source, "2026-05-20"), check_source(source, "2026-05-20")


@pytest.fixture(scope="module")
def made() -> dict[str, tuple[Facts, PlanReport]]:
    return {name: facts_named(name) for name in NAMES}


def test_the_flats_have_some_two_hundred_runs() -> None:
    assert 180 <= len(apartments()["runs"]) <= 220


def picture(made: dict[str, tuple[Facts, PlanReport]], name: str, kind: str) -> Picture:
    found, *_ = KINDS[kind](*made[name])
    return found


@pytest.mark.parametrize(("name", "kind"), DRAWN)
def test_hardly_a_label_collides(made: dict[str, tuple[Facts, PlanReport]], name: str, kind: str) -> None:
    found = picture(made, name, kind)
    hit = [
        text
        for number, (text, box) in enumerate(found.labels)
        if any(overlaps(box, other) for place, (_, other) in enumerate(found.labels) if place != number)
        or any(crosses(box, line) for line in found.lines)
    ]
    assert len(hit) <= 0.02 * len(found.labels), hit


@pytest.mark.parametrize(("name", "kind"), DRAWN)
def test_every_run_is_drawn_once_and_every_part_is_there(made: dict[str, tuple[Facts, PlanReport]], name: str, kind: str) -> None:
    facts, _ = made[name]
    titles = [one.text or "" for one in ET.fromstring(picture(made, name, kind).svg).iter(f"{SVG}title")]
    for run in facts.plan.runs.values():
        if run.work != "removed" and run.from_ is not None and run.to is not None:
            assert sum(text.startswith(f"{run.id}: ") for text in titles) == 1, run.id
    told = " | ".join(titles)
    for part in facts.plan.parts.values():
        name_of = part.id if part.is_ == "manifold" and kind == "isometric" else facts.part_name(part.id)
        assert part.work == "removed" or f"{part.is_} {name_of}" in told, part.id


@pytest.mark.parametrize("name", WALKED)
def test_every_run_has_its_size_and_length_beside_it(made: dict[str, tuple[Facts, PlanReport]], name: str) -> None:
    from plancheck.drawing.scene import label_of

    facts, _ = made[name]
    runs = [run for run in facts.plan.runs.values() if run.work != "removed" and run.from_ is not None and run.to is not None]
    wanted = sorted(label for label in ("  ".join(filter(None, label_of(facts, run))) for run in runs) if label)
    texts = [text for text, _ in picture(made, name, "isometric").labels]
    assert sorted(text for text in texts if text in set(wanted)) == wanted
    texts = [text for text, _ in picture(made, name, "riser").labels]
    for label in set(wanted):
        for piece in label.split("  "):
            assert texts.count(piece) >= wanted.count(label), piece


@pytest.mark.parametrize("kind", ["isometric", "riser"])
@pytest.mark.parametrize("name", ["boathouse-mistakes", "apprentice"])
def test_findings_have_the_numbers_of_the_list(made: dict[str, tuple[Facts, PlanReport]], name: str, kind: str) -> None:
    _, report = made[name]
    svg = picture(made, name, kind).svg
    numbers = [int(number) for number in re.findall(r'id="mark-(\d+)"', svg)]
    assert len(numbers) == len(set(numbers))
    of_things = {one.number for one in report.findings if one.path.startswith(("/parts/", "/runs/", "/water"))}
    assert of_things <= set(numbers)
    for one in report.findings:
        if one.number in numbers:
            assert f"<title>{one.number}. {one.severity}: " in svg


def test_marks_lead_to_findings_when_linked(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    facts, report = made["boathouse-mistakes"]
    svg = supply(facts, report, "p2-", linked=True).svg
    assert set(re.findall(r'href="#p2-finding-(\d+)"', svg)) == set(re.findall(r'id="p2-mark-(\d+)"', svg))


@pytest.mark.parametrize(("service", "dots"), [("cold", 1), ("hot", 2), ("hot return", 3)])
def test_waters_are_told_apart_without_colour(service: str, dots: int) -> None:
    # US Navy course 14069 citing ANSI Y32.4 (read): long dash and one dot cold, two dots hot; three dots return (practice)
    from plancheck.drawing.waters import LOOKS

    dashes = [float(piece) for piece in LOOKS[service].dashes.split()][::2]
    assert dashes[0] > 3
    assert [piece < 0.1 for piece in dashes[1:]] == [True] * dots


def test_horizontals_run_at_thirty_degrees_and_verticals_stand(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    from math import atan2, degrees

    from plancheck.drawing.isometric import isometric

    lines = isometric(*made["metric-house"]).lines
    angles = {round(abs(degrees(atan2(line.y2 - line.y1, line.x2 - line.x1))) % 180) for line in lines if abs(line.x2 - line.x1) + abs(line.y2 - line.y1) > 1}
    assert angles <= {30, 90, 150}  # every path of that plan goes along the axes


def test_lengths_keep_their_order_along_an_axis() -> None:
    from plancheck.drawing.stretch import axes_of

    axes = axes_of([(0, 0, 0), (0.1, 0, 0), (9, 0, 0), (9.2, 1, 2)], 3.0, 50.0, 10.0)
    assert axes.east.places[1] >= 3.0
    assert axes.east.places[2] - axes.east.places[1] == 50.0
    assert list(axes.east.places) == sorted(axes.east.places)
    assert axes.east.at(0.05) == axes.east.places[1] / 2


def test_the_drawing_of_a_plan_without_paths_is_the_riser(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    assert supply(*made["boathouse"]).name == "isometric"
    assert supply(*made["apprentice"]).name == "riser"


def test_things_joined_to_nothing_are_drawn_and_told(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    facts, report = made["apprentice"]
    apart = spots_of(facts).apart
    assert apart == ("loose-tee",)
    found, *_ = KINDS["isometric"](facts, report)
    assert "loose-tee" in found.svg
    assert sum(node.parent < 0 for node in tree_of(facts)) == 2


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_is_well_formed_and_says_what_it_shows(made: dict[str, tuple[Facts, PlanReport]], name: str, kind: str) -> None:
    for one in KINDS[kind](*made[name]):
        root = ET.fromstring(one.svg)
        assert root.get("role") == "img"
        title, about = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert title is not None
        assert about is not None
        assert (title.text, bool(about.text)) == (one.title, True)
        assert not root.findall(f".//{SVG}script")
        assert "style=" not in one.svg


def test_a_hostile_plan_draws_as_text() -> None:
    from tests.grading.making import SMALL

    bad = '<script>&"\u202e\x07'
    plan = changed(SMALL, {"job/title": bad, "parts/shower/name": bad * 20, "parts/cold-row/ports/A/label": bad, "places/bath/name": bad})
    facts = facts_of(read_bytes(json.dumps(plan).encode(), "a.plan.json"), "2026-05-05")
    for kind in KINDS.values():
        for one in kind(facts, None):
            ET.fromstring(one.svg)
            assert "<script>" not in one.svg
            assert "\u202e" not in one.svg


def test_any_small_plan_can_be_drawn() -> None:
    for parts in ({"street": {"is": "source"}}, {"street": {"is": "source"}, "a": {"is": "tee"}, "b": {"is": "manifold", "ports": {"A": {}}}}):
        plan: dict[str, Any] = {"plancheck": 1, "parts": parts}
        facts = facts_of(read_bytes(json.dumps(plan).encode(), "a.plan.json"), "2026-05-05")
        for kind in KINDS.values():
            assert all(ET.fromstring(one.svg) is not None for one in kind(facts, None))


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = str(PLANS["boathouse"])
    assert command(["draw", plan, "--today", "2026-05-20"]) == 0
    assert capsys.readouterr().out.startswith("<svg ")
    assert command(["draw", plan, "--as", "all", "--out", str(tmp_path / "all")]) == 0
    assert {"isometric.svg", "riser.svg", "face-cold-ring.svg", "strip-hot-row.svg", "shutoff.svg", "pressure.svg"} <= {file.name for file in (tmp_path / "all").iterdir()}
    assert command(["draw", plan, "--as", "manifolds"]) == 2  # two drawings and no folder
    assert command(["draw", plan, "--out", plan]) == 2
    assert command(["draw", str(tmp_path / "none.plan.yaml")]) == 2
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert command(["draw", plan, "--as", "all", "--out", str(tmp_path / "file")]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_strip_is_as_wide_as_the_ports_stand_apart(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    facts, report = made["metric-house"]
    cold = KINDS["labels"](facts, report)[0]
    assert 'width="60"' in cold.svg  # ports 60 mm apart
    assert f'width="{cold.width_mm:g}mm"' in cold.svg


def test_the_mark_of_a_bend_stands_at_that_bend(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    """The third of a path's corners is its second bend, whatever stands before its start: galley-cold goes up, east, up."""
    from plancheck.drawing.along import on_run
    from plancheck.drawing.scene import scene_of

    scene = scene_of(made["boathouse-mistakes"][0])
    for name in ("galley-cold", "g-wc-c"):
        run = next(one for one in scene.runs if one.line.run.id == name)
        path = run.corners[run.line.before :]
        for number in range(len(path) - 2):
            assert on_run(scene, run, ("bends", str(number))) == pytest.approx(path[number + 1])
            assert on_run(scene, run, ("path", str(number + 1))) == pytest.approx(path[number + 1])


def test_what_is_said_to_rise_is_drawn_rising_though_it_has_no_path(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    from plancheck.drawing.spots import spots_of

    facts = made["boathouse-mistakes"][0]
    spots = spots_of(facts)
    assert facts.plan.runs["service"].path is None
    assert spots.parts["meter"][2] - spots.parts["street"][2] == pytest.approx(5 * 0.3048)


def test_without_a_path_there_is_no_isometric(made: dict[str, tuple[Facts, PlanReport]], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert KINDS["isometric"](*made["small-flat"]) == ()
    assert command(["draw", str(PLANS["small-flat"]), "--as", "isometric"]) == 2
    assert "gives no run a path" in capsys.readouterr().err
    assert command(["draw", str(PLANS["small-flat"]), "--as", "all", "--out", str(tmp_path / "all")]) == 0
    assert not (tmp_path / "all" / "isometric.svg").exists()


def test_what_the_drawing_has_besides_parts_is_in_its_legend(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    for kind in ("isometric", "riser"):
        svg = picture(made, "boathouse-mistakes", kind).svg
        for words in ("manifold", "valve at a port", "made up directly, no tube", "the way water flows"):
            assert words in svg, (kind, words)
    assert "floor of a storey" in picture(made, "boathouse-mistakes", "isometric").svg
    assert "12 fixtures: one with hot and cold stands at each of its pipes." in re.sub(r"</text><text[^>]*>", " ", picture(made, "boathouse-mistakes", "riser").svg)


def test_an_estimate_is_written_as_one() -> None:
    from plancheck.drawing.scene import label_of

    data = yaml.safe_load(PLANS["boathouse"].read_text(encoding="utf-8"))
    data["runs"]["service"]["length"] = "about 45 ft"
    facts = facts_of(read_bytes(yaml.safe_dump(data).encode(), "a.plan.yaml"), "2026-05-20")
    assert label_of(facts, facts.plan.runs["service"]) == ('1" copper', "about 45 ft")


def test_a_spare_port_that_nothing_closes_is_not_drawn_capped() -> None:
    from plancheck.drawing.face import face_pictures

    data = yaml.safe_load(PLANS["boathouse"].read_text(encoding="utf-8"))
    drawn = {}
    for end in ("plug", "none"):
        data["parts"]["cold-ring"]["ports"]["S"]["end"] = end
        facts = facts_of(read_bytes(yaml.safe_dump(data).encode(), "a.plan.yaml"), "2026-05-20")
        drawn[end] = next(found.svg for found in face_pictures(facts) if found.name == "face-cold-ring")
    assert "open end" in drawn["none"]
    assert "open end" not in drawn["plug"]
    assert drawn["none"].count("<circle") == drawn["plug"].count("<circle") + 1


@pytest.mark.parametrize("name", WALKED)
def test_hot_and_cold_of_a_fixture_are_two_lines_on_paper(made: dict[str, tuple[Facts, PlanReport]], name: str) -> None:
    from plancheck.drawing.scene import scene_of
    from plancheck.drawing.viewing import hidden_mm

    scene = scene_of(made[name][0])
    ends: dict[str, list[float]] = {}
    for run in scene.runs:
        for ref, spot in ((run.line.run.from_, run.corners[0]), (run.line.run.to, run.corners[-1])):
            if ref is not None and ref.connection in ("hot", "cold") and run.service in ("hot", "cold"):
                ends.setdefault(ref.part, []).append(spot[0])
    assert all(max(found) - min(found) > 2.0 for found in ends.values() if len(found) == 2)
    long = sum(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for run in scene.runs for a, b in pairwise(run.corners))
    assert hidden_mm(run.corners for run in scene.runs) < 0.15 * long


@pytest.mark.parametrize("kind", ["isometric", "riser"])
def test_a_large_plan_has_sheets_on_which_every_run_is_once_and_labels_are_clear(made: dict[str, tuple[Facts, PlanReport]], kind: str) -> None:
    facts = made["apartments"][0]
    _, *sheets = KINDS[kind](*made["apartments"])
    assert [sheet.name for sheet in sheets] == [f"{kind}-{number}" for number in range(1, len(sheets) + 1)]
    assert len(sheets) > 3
    titles = [[one.text or "" for one in ET.fromstring(sheet.svg).iter(f"{SVG}title")] for sheet in sheets]
    for run in facts.plan.runs.values():
        found = sum(any(text.startswith(f"{run.id}: ") for text in told) for told in titles)
        assert found == 1 if kind == "isometric" else found >= 1, run.id
    for sheet in sheets:
        assert sheet.width_mm <= 863.6
        hit = [
            text
            for number, (text, box) in enumerate(sheet.labels)
            if any(overlaps(box, other) for place, (_, other) in enumerate(sheet.labels) if place != number) or any(crosses(box, piece) for piece in sheet.lines)
        ]
        assert len(hit) <= 0.02 * len(sheet.labels), (sheet.name, hit)


def test_a_house_has_one_sheet(made: dict[str, tuple[Facts, PlanReport]]) -> None:
    for name in WALKED:
        if name != "apartments":
            assert len(KINDS["isometric"](*made[name])) == len(KINDS["riser"](*made[name])) == 1


def test_one_file_takes_the_whole_and_a_folder_the_sheets_as_well(tmp_path: Path) -> None:
    plan = tmp_path / "flats.plan.json"
    plan.write_text(json.dumps(apartments()), encoding="utf-8")
    assert command(["draw", str(plan), "--as", "isometric", "--out", str(tmp_path / "one.svg")]) == 0
    assert (tmp_path / "one.svg").is_file()
    assert command(["draw", str(plan), "--as", "isometric", "--out", f"{tmp_path / 'pile'}/"]) == 0
    assert len(list((tmp_path / "pile").glob("isometric-*.svg"))) > 3
