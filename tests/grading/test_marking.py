"""How marks come about: one deduction for one cause, wrong told apart from not said, follow-through, critical faults."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from plancheck.gradecalls import Call, run_grade
from plancheck.grading.grade import rounded
from tests.casework import CASES, changed, load
from tests.grading.making import SMALL, TODAY, aspect, by_name, rubric, run, small


def crossed() -> dict[str, Any]:
    """The small plan with a run that ties hot to cold."""
    return changed(SMALL, load(CASES / "hot_cold_crossover" / "link_between_the_rows.yaml")["change"])


def test_a_sound_plan_has_all_marks(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}, "held": {"rules": ["support_spacing", "bend_radius"]}})
    found = by_name(run(tmp_path, scheme, {"A": SMALL}))["A"]
    assert (found.total, found.first, found.critical) == (100.0, (), ())


def test_one_cause_is_paid_for_once_and_what_follows_is_kept(tmp_path: Path) -> None:
    scheme = rubric({"crossing": {"rules": ["hot_cold_crossover"], "each": 10}, "shut": {"rules": ["branch_shutoff"], "each": 10, "advice": True}})
    found = by_name(run(tmp_path, scheme, {"A": crossed()}))["A"]
    assert len(aspect(found, "crossing").faults) == 1
    assert [fault.says[:40] for fault in aspect(found, "shut").faults] == ["Should the first valve not close, the ne"]
    assert aspect(found, "shut").mark == 40  # the advice that the small plan has anyhow
    follows = [one for one in found.report.findings if one.rule == "branch_shutoff" and one.under]  # type: ignore[union-attr]
    assert len(aspect(found, "shut").kept) == len(follows) > 0


def test_a_cause_that_no_aspect_names_is_paid_where_it_first_shows(tmp_path: Path) -> None:
    scheme = rubric({"shut": {"rules": ["branch_shutoff"], "each": 10, "advice": True}})
    found = by_name(run(tmp_path, scheme, {"A": crossed()}))["A"]
    assert [fault.rule for fault in aspect(found, "shut").faults] == ["branch_shutoff", "hot_cold_crossover"]
    assert aspect(found, "shut").mark == 80


def test_one_default_that_breaks_ten_runs_is_one_slip(tmp_path: Path) -> None:
    scheme = rubric({"bends": {"rules": ["bend_radius"], "each": 10}})
    found = by_name(run(tmp_path, scheme, {"A": small(defaults__runs__blue__bends__radius="2 in")}))["A"]
    assert len(found.report.findings) > 1  # type: ignore[union-attr]
    assert aspect(found, "bends").mark == 90


def test_not_said_costs_documentation_and_not_technique(tmp_path: Path) -> None:
    scheme = rubric({"held": {"rules": ["support_spacing"]}, "said": {"documents": ["support_spacing"]}})
    silent = changed(SMALL, {"defaults/runs/white/supports": None})
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": silent}))
    assert found["A"].total == 100
    assert aspect(found["B"], "held").mark == 50
    assert aspect(found["B"], "said").mark == 37.5  # by hand: two of the eight runs are of white tube
    assert aspect(found["B"], "held").not_shown > 0


def test_of_what_nothing_is_said_there_is_nothing_to_mark(tmp_path: Path) -> None:
    bare = {key: value for key, value in SMALL.items() if key != "water"}
    scheme = rubric({"left": {"value": "pressure left", "full": "5 psi"}, "static": {"rules": ["static_pressure"]}})
    found = by_name(run(tmp_path, scheme, {"A": bare}))["A"]
    assert [aspect(found, name).state for name in ("left", "static")] == ["not stated", "not stated"]
    assert found.total == 0


@pytest.mark.parametrize(("absent", "mark"), [("none", 0), ("all", 100)])
def test_what_the_plan_has_not_gives_what_the_rubric_says(tmp_path: Path, absent: str, mark: float) -> None:
    scheme = rubric({"pump": {"rules": ["circulation_loop"], "absent": absent}})
    found = by_name(run(tmp_path, scheme, {"A": SMALL}))["A"]
    assert (found.total, aspect(found, "pump").state) == (mark, "not in the plan")


def test_a_value_copied_wrong_pays_once_and_all_else_goes_by_it(tmp_path: Path) -> None:
    """Follow-through: with the pressure he wrote the regulator he left out is right, so that the method keeps its marks."""
    task = changed(SMALL, {"water/static": "95 psi", "code": {"family": "upc", "edition": 2021}})
    (tmp_path / "task.plan.yaml").write_text(yaml.safe_dump(task, sort_keys=False), encoding="utf-8")
    scheme = rubric(
        {"given": {"weight": 20, "given": ["water/static", "code/family"]}, "method": {"rules": ["static_pressure"]}},
        reference="task.plan.yaml",
    )
    found = by_name(run(tmp_path, scheme, {"wrong": SMALL, "right": task, "metric": small(water__static="655 kPa")}))
    assert (aspect(found["wrong"], "given").mark, aspect(found["wrong"], "method").mark) == (10, 80)
    assert aspect(found["right"], "given").mark == 20
    assert aspect(found["right"], "method").mark < 80  # over 80 psi and no regulator
    assert aspect(found["metric"], "given").mark == 20  # 655 kPa is 95 psi


def test_material_is_compared_with_his_own_plan(tmp_path: Path) -> None:
    from plancheck.check import facts_of
    from plancheck.reading import read_bytes
    from plancheck.takeoff import takeoff

    held = takeoff(facts_of(read_bytes(json.dumps(SMALL).encode(), "x"), "2026-05-05"))
    said: dict[str, Any] = {
        "tubes": {name: f"{metres:.2f} m" for name, metres in held.tubes.items()},
        "parts": dict(held.parts),
        "joints": dict(held.joints),
    }
    short = {**said, "parts": {**said["parts"], "valve": held.parts["valve"] + 3}}
    scheme = rubric({"list": {"materials": 0.05}})
    found = by_name(run(tmp_path, scheme, {"right": small(materials=said), "off": small(materials=short), "none": SMALL}))
    lines = len(held.tubes) + len(held.parts) + len(held.joints)
    assert found["right"].total == 100
    assert aspect(found["off"], "list").mark == pytest.approx(100 * (lines - 1) / lines)
    assert aspect(found["none"], "list").state == "not stated"


def test_a_critical_fault_caps_the_total_and_takes_its_section(tmp_path: Path) -> None:
    scheme = rubric({"held": {"rules": ["support_spacing"]}})
    scheme["critical"] = {"meet": {"title": "Hot and cold meet", "rules": ["hot_cold_crossover"], "severity": "correction", "cap": 49}}
    found = by_name(run(tmp_path, scheme, {"A": crossed()}))["A"]
    assert (found.total, found.before_cap, found.critical[0].title) == (49, 100, "Hot and cold meet")
    scheme["critical"]["meet"] = {**scheme["critical"]["meet"], "fails": "all"}
    del scheme["critical"]["meet"]["cap"]
    found = by_name(run(tmp_path, scheme, {"A": crossed()}))["A"]
    assert (found.total, found.sections[0].failed) == (0, ("Hot and cold meet",))


def test_waivers_of_the_apprentice_count_for_nothing(tmp_path: Path) -> None:
    scheme = rubric({"bends": {"rules": ["bend_radius"], "each": 10}})
    plan = small(defaults__runs__blue__bends__radius="2 in")
    name = next(name for name, one in plan["runs"].items() if one.get("tube") == "blue")
    waived = {**plan, "waivers": [{"rule": "bend_radius", "at": f"/runs/{name}", "because": "it fits", "by": "me", "until": "2030-01-01"}]}
    assert by_name(run(tmp_path, scheme, {"A": waived}))["A"].total == 90


def test_the_rubric_says_at_which_stage_is_marked(tmp_path: Path) -> None:
    scheme = rubric({"held": {"rules": ["support_spacing"]}}, stage="layout")
    found = by_name(run(tmp_path, scheme, {"A": SMALL}))["A"]
    assert found.report.stage == "layout"  # type: ignore[union-attr]


def test_thrift_against_the_thriftiest_sound_plan(tmp_path: Path) -> None:
    scheme = rubric({"thrift": {"economy": {"of": "fittings", "within": 0.1}}})
    more = {f"parts/extra{number}": {"is": "cap"} for number in range(4)}
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": changed(SMALL, more)}))
    fittings = int(aspect(found["A"], "thrift").says.split()[0])
    ratio = (fittings + 4) / fittings
    assert aspect(found["A"], "thrift").mark == 100
    assert aspect(found["B"], "thrift").mark == pytest.approx(100 * max(0.0, 1 - (ratio - 1.1) / 0.2))


def test_thrift_is_told_among_plans_that_serve_the_same_fixtures(tmp_path: Path) -> None:
    scheme = rubric({"thrift": {"economy": {"of": "fittings", "within": 0.1}}})
    toilet = next(id_ for id_, part in SMALL["parts"].items() if part.get("is") == "toilet")
    leaner = changed(SMALL, {f"parts/{toilet}": None, **{f"runs/{id_}": None for id_, run in SMALL["runs"].items() if toilet in str(run)}})
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": leaner}))
    assert [aspect(found[name], "thrift").mark for name in "AB"] == [100, 100]


def test_a_hazard_by_any_rule_is_critical(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}})
    scheme["critical"] = {"hazard": {"title": "Something that can hurt someone", "rules": ["any"], "severity": "hazard", "cap": 59}}
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": small(tubes__blue__colour="purple")}))
    assert found["A"].critical == ()
    assert (found["B"].total, found["B"].critical[0].title) == (59, "Something that can hurt someone")


@pytest.mark.parametrize(("mark", "step", "shown"), [(66.25, 0.5, 66.5), (66.249, 0.5, 66.0), (0.05, 0.1, 0.1), (2.675, 0.01, 2.68), (99.5, 1, 100)])  # fmt: skip
def test_half_a_step_goes_up(mark: float, step: float, shown: float) -> None:
    assert rounded(mark, step) == shown


def test_what_gains_most_comes_first(tmp_path: Path) -> None:
    plan = small(defaults__runs__blue__bends__radius="2 in")
    plan = {key: value for key, value in plan.items() if key != "water"}
    scheme = rubric({
        "bends": {"weight": 30, "rules": ["bend_radius"], "each": 10},
        "left": {"weight": 60, "value": "pressure left", "full": "5 psi"},
        "sides": {"weight": 10, "rules": ["fixture_sides"]},
    })  # fmt: skip
    found = by_name(run(tmp_path, scheme, {"A": plan}))["A"]
    assert [(one.title, one.gain) for one in found.first] == [("left", 60.0), ("bends", 10.0)]


EMPTY = {"plancheck": 1, "job": {"title": "Nothing"}, "code": {"family": "irc", "edition": 2021}, "parts": {"street": {"is": "source"}}}


def test_what_is_not_drawn_cannot_be_wrong_and_is_not_paid_either(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["relief_valve"], "absent": "all"}})
    scheme["critical"] = {"blank": {"title": "Nothing is drawn", "fewest": {"fixtures": 1, "runs": 1, "water heater": 1}, "cap": 0}}
    found = by_name(run(tmp_path, scheme, {"A": EMPTY, "B": SMALL}))
    assert (found["A"].total, found["A"].before_cap) == (0, 100)
    assert found["A"].critical[0].says == ("Fixtures: 0 in the plan, 1 or more asked.", "Runs: 0 in the plan, 1 or more asked.", "Water heater: 0 in the plan, 1 or more asked.")
    assert found["B"].critical == ()


@pytest.mark.parametrize("name", ["default", "full-repipe", "manifold-exercise"])
def test_no_rubric_that_comes_along_pays_for_an_empty_plan(tmp_path: Path, name: str) -> None:
    (tmp_path / "a.plan.json").write_text(json.dumps(EMPTY), encoding="utf-8")
    rubric_file = Path("sample_plans/grading") / f"{name}.rubric.yaml"
    assert [one.total for one in run_grade(Call(str(rubric_file), (str(tmp_path),), today=TODAY)).class_] == [0]


def test_each_critical_fault_says_what_the_total_were_without_it(tmp_path: Path) -> None:
    scheme = rubric({"crossing": {"rules": ["support_spacing"]}})
    meet = {"title": "Hot and cold meet", "rules": ["hot_cold_crossover"], "severity": "correction"}
    effects: tuple[dict[str, Any], ...] = ({"cap": 49}, {"cap": 70}, {"fails": "all"})
    scheme["critical"] = {f"fault{number}": {**meet, **effect, "rules": ["hot_cold_crossover"]} for number, effect in enumerate(effects)}
    one = by_name(run(tmp_path, scheme, {"A": crossed()}))["A"]
    assert (one.total, one.before_cap) == (0, 0)
    assert [fault.without for fault in one.critical] == [0, 0, 49]  # by hand: the section whole again, the lower cap left
