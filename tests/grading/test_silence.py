"""What is left out of a plan: it costs where one asks whether it is said, buys nothing, and lifts no critical fault."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from plancheck.errors import Unreadable
from plancheck.gradecalls import Call, run_grade
from plancheck.grading.results import Graded
from tests.casework import changed
from tests.grading.making import SMALL, TODAY, aspect, by_name, rubric, run, small

SAMPLES = Path(__file__).parents[2] / "sample_plans"
GRADING = SAMPLES / "grading"


def test_half_of_the_subjects_is_enough_and_with_fewer_the_marks_shrink(tmp_path: Path) -> None:
    scheme = rubric({"held": {"rules": ["support_spacing"], "each": 10}})
    few = changed(SMALL, {f"defaults/runs/{tube}/supports": None for tube in ("white", "blue")})
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": few}))
    one = aspect(found["B"], "held")
    assert one.mark == 25  # by hand: one of eight runs says it, the copper one; twice that share of 100
    assert "of 1 of 8 things, less than half: 25.0 marks at most" in one.says
    assert aspect(found["A"], "held").mark == 100


def test_what_a_plan_has_not_counts_as_the_mean_of_the_rest(tmp_path: Path) -> None:
    scheme = rubric({
        "ring": {"weight": 20, "rules": ["ring_closed"], "absent": "rest"},
        "bends": {"weight": 30, "rules": ["bend_radius"], "each": 15},
        "sides": {"weight": 50, "rules": ["fixture_sides"]},
    })  # fmt: skip
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": small(defaults__runs__blue__bends__radius="2 in")}))
    assert aspect(found["A"], "ring").state == "left out"
    assert (found["A"].total, found["B"].total) == (100, pytest.approx(100 * 65 / 80, abs=0.06))
    assert aspect(found["B"], "ring").mark == pytest.approx(20 * 65 / 80)


def test_a_fault_that_is_hidden_by_saying_less_is_critical_all_the_same(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}})
    fault = {"title": "Tube the code does not take", "rules": ["unlisted_material"], "severity": "correction", "cap": 55}
    silent = changed(SMALL, {"tubes/white/material": "not known"})
    scheme["critical"] = {"tube": fault}
    assert by_name(run(tmp_path, scheme, {"A": silent}))["A"].total == 100
    scheme["critical"] = {"tube": {**fault, "unsaid": True}}
    found = by_name(run(tmp_path, scheme, {"A": silent, "B": SMALL}))
    assert (found["A"].total, found["B"].total) == (55, 100)
    assert found["A"].critical[0].says[0].startswith("Not stated: ")


def test_keys_that_every_plan_must_have(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}})
    scheme["critical"] = {"bare": {"title": "Bare", "says": ["code/family", "water/static"], "cap": 40}}
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": changed(SMALL, {"code": None}), "C": small(water__static="not known")}))
    assert [found[name].total for name in "ABC"] == [100, 40, 40]
    assert found["B"].critical[0].says == ("The plan does not say code/family.",)


def _without_each_key(data: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The plan with one key left out, for every key to the third level."""
    found: dict[str, dict[str, Any]] = {}
    for section, inside in data.items():
        if not isinstance(inside, dict) or section in ("job", "plancheck"):
            continue
        for name, entry in inside.items():
            found[f"{section}/{name}"] = changed(data, {f"{section}/{name}": None})
            for key in entry if isinstance(entry, dict) else ():
                if "/" not in key:
                    found[f"{section}/{name}/{key}"] = changed(data, {f"{section}/{name}/{key}": None})
    return found


@pytest.mark.parametrize("name", ["c09", "c14"])
def test_no_key_left_out_makes_a_failed_plan_pass(tmp_path: Path, name: str) -> None:
    """c09 has tube the code does not take, c14 a toilet without water: both under a cap below the pass mark."""
    data = yaml.safe_load((GRADING / "class" / f"{name}.plan.yaml").read_text(encoding="utf-8"))
    pile = tmp_path / "pile"
    pile.mkdir()
    plans = {"whole": data, **_without_each_key(data)}
    for number, plan in enumerate(plans.values()):
        (pile / f"{number:03}.plan.json").write_text(json.dumps(plan, default=str), encoding="utf-8")
    result = run_grade(Call(str(GRADING / "manifold-exercise.rubric.yaml"), (str(pile),), today=TODAY))
    passed = [key for key, one in zip(plans, result.class_, strict=True) if one.reached]
    assert passed == []
    assert len(result.class_) > 60


def first(found: dict[str, Graded], name: str) -> list[tuple[str, float]]:
    return [(thing.title, round(thing.gain, 2)) for thing in found[name].first]


def test_gains_add_up_one_after_the_other(tmp_path: Path) -> None:
    """By hand: the cap of 49 holds 80 down; mending the crossing lifts it and gives back its 10, then the bends 10 more."""
    from tests.grading.test_marking import crossed

    plan = changed(crossed(), {"defaults/runs/blue/bends/radius": "2 in"})
    scheme = rubric({
        "crossing": {"weight": 50, "rules": ["hot_cold_crossover"], "each": 10},
        "bends": {"weight": 50, "rules": ["bend_radius"], "each": 10},
    }, critical={"meet": {"title": "They meet", "rules": ["hot_cold_crossover"], "severity": "correction", "cap": 49}})  # fmt: skip
    found = by_name(run(tmp_path, scheme, {"A": plan}))
    assert (found["A"].total, found["A"].before_cap) == (49, 80)
    assert first(found, "A") == [("crossing", 41.0), ("bends", 10.0)]
    assert [thing.critical for thing in found["A"].first] == [True, False]


def test_what_only_a_person_can_change_is_not_to_be_mended_first(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"weight": 60, "rules": ["fixture_sides"]}, "tidy": {"weight": 40, "judge": "the bench"}})
    marks = tmp_path / "a.marks.yaml"
    marks.write_text("plancheck: 1\ncandidates: {A: {judge: {all/tidy: {level: 1, by: tutor}}}}\n", encoding="utf-8")
    assert by_name(run(tmp_path, scheme, {"A": SMALL}, marks=str(marks)))["A"].first == ()


def test_a_critical_fault_is_lifted_by_two_persons_and_shown_all_the_same(tmp_path: Path) -> None:
    from tests.grading.test_marking import crossed

    scheme = rubric({"sides": {"rules": ["support_spacing"]}})
    scheme["critical"] = {"meet": {"title": "They meet", "rules": ["hot_cold_crossover"], "severity": "correction", "cap": 49}}
    marks = tmp_path / "a.marks.yaml"
    lift = "plancheck: 1\ncandidates: {A: {lift: {%s: {because: a test link, by: tutor 1, second: %s}}}}\n"
    marks.write_text(lift % ("meet", "tutor 2"), encoding="utf-8")
    one = by_name(run(tmp_path, scheme, {"A": crossed()}, marks=str(marks)))["A"]
    assert (one.total, one.critical[0].lifted) == (100, "a test link (tutor 1, tutor 2)")
    for name, second, says in (("met", "tutor 2", "no critical fault 'met'"), ("meet", "Tutor 1", "one person")):
        marks.write_text(lift % (name, second), encoding="utf-8")
        with pytest.raises(Unreadable) as wrong:
            run(tmp_path, scheme, {"A": crossed()}, marks=str(marks))
        assert says in wrong.value.problems[0].says


def test_what_is_said_no_more_is_not_mended(tmp_path: Path) -> None:
    from plancheck.grading.machine import result_json

    scheme = rubric({"held": {"rules": ["support_spacing"]}})
    bad = small(defaults__runs__blue__supports__every="6 ft")
    result = run(tmp_path, scheme, {"A": bad, "B": bad, "C": "not a plan"})
    before = tmp_path / "before.json"
    before.write_text(result_json(result.klass.rubric, result.made, result.class_, result.picture), encoding="utf-8")
    silent = changed(SMALL, {"defaults/runs/blue/supports": None})
    found = by_name(run(tmp_path, scheme, {"A": silent, "B": SMALL, "C": bad}, before=str(before)))
    assert (len(found["A"].mended), len(found["B"].unsaid)) == (0, 0)
    assert len(found["A"].unsaid) == len(found["B"].mended) > 0
    assert found["C"].new == ()  # what could not be read then says nothing of what is new


def test_who_handed_nothing_in_and_who_is_not_on_the_roster_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "x.plan.json").write_text(json.dumps(SMALL), encoding="utf-8")
    roster = tmp_path / "roster.csv"
    roster.write_text("file,candidate\nnever.plan.yaml,A15\n", encoding="utf-8")
    run_grade(Call(str(GRADING / "default.rubric.yaml"), (str(tmp_path),), roster=str(roster), today=TODAY))
    told = capsys.readouterr().err
    assert "not handed in, by the roster: A15" in told
    assert "not on the roster, called by their hash: plan-" in told


def test_a_path_that_is_not_there_is_no_candidate(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as wrong:
        run_grade(Call(str(GRADING / "default.rubric.yaml"), (str(tmp_path / "nobody"),), today=TODAY))
    assert wrong.value.problems[0].says == "there is no such file or folder"


@pytest.mark.parametrize(
    "text",
    [
        "plancheck: 1\njob: {date: Ada Thornbury 3 May}\nparts: {street: {is: source}}\n",
        "plancheck: 1\nparts: {street: {is: source}}\nruns: {ada-thornbury: {from: street, to: nowhere-thornbury}}\n",
        "plancheck: 1\nparts: {ada-thornbury: {is: thornbury}}\n",
    ],
)
def test_a_row_that_cannot_be_read_repeats_no_word_of_the_plan(tmp_path: Path, text: str) -> None:
    from plancheck.grading.machine import gradebook, result_json

    pile = tmp_path / "pile"
    pile.mkdir()
    (pile / "a.plan.yaml").write_text(text, encoding="utf-8")
    result = run_grade(Call(str(GRADING / "default.rubric.yaml"), (str(pile),), today=TODAY))
    (one,) = result.class_
    assert one.unread
    assert one.unread[0].startswith("Line ")
    told = gradebook(result.klass.rubric, result.class_) + result_json(result.klass.rubric, result.made, result.class_, result.picture)
    assert "hornbury" not in told


def test_calling_new_work_existing_buys_nothing_where_all_is_new(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}})
    scheme["critical"] = {"tube": {"title": "Tube", "rules": ["unlisted_material"], "severity": "correction", "cap": 55}}
    claimed = small(tubes__white__material="polybutylene", defaults__runs__blue__work="existing", defaults__runs__white__work="existing")
    assert by_name(run(tmp_path, scheme, {"A": claimed}))["A"].total == 100
    assert by_name(run(tmp_path, {**scheme, "all_new": True}, {"A": claimed}))["A"].total == 55


def test_a_list_of_which_nobody_knows_is_none(tmp_path: Path) -> None:
    scheme = rubric({"list": {"weight": 40, "materials": 0.1}, "sides": {"weight": 60, "rules": ["fixture_sides"]}})
    found = by_name(run(tmp_path, scheme, {"A": {**SMALL, "materials": "not known"}, "B": SMALL}))
    assert [(one.total, aspect(one, "list").state) for one in found.values()] == [(60, "not stated")] * 2


def test_hot_and_cold_exchanged_do_not_agree_with_the_reference(tmp_path: Path) -> None:
    (tmp_path / "layout.plan.json").write_text(json.dumps(SMALL), encoding="utf-8")
    scheme = {**rubric({"joins": {"agrees": ["joins"]}}), "reference": "layout.plan.json"}
    runs = {name: run["to"] for name, run in SMALL["runs"].items() if str(run.get("to")).startswith("shower/")}
    cold, hot = sorted(runs, key=lambda name: runs[name])
    swapped = changed(SMALL, {f"runs/{cold}/to": runs[hot], f"runs/{hot}/to": runs[cold]})
    found = by_name(run(tmp_path, scheme, {"A": SMALL, "B": swapped}))
    assert found["A"].total == 100
    whole = len(SMALL["runs"])
    assert found["B"].total == pytest.approx(100 * (whole - 2) / (whole + 2), abs=0.06)  # by hand: two joins lost, two besides


def test_plans_that_depart_alike_from_the_task_are_told_and_sound_ones_are_not(tmp_path: Path) -> None:
    (tmp_path / "layout.plan.json").write_text(json.dumps(SMALL), encoding="utf-8")
    scheme = {**rubric({"joins": {"agrees": ["joins"]}}), "reference": "layout.plan.json"}
    odd = {f"parts/odd{number}": {"is": "cap"} for number in range(9)}
    plans = {"A": SMALL, "B": SMALL, "C": small(water__static="61 psi"), "D": changed(SMALL, odd), "E": changed(SMALL, odd)}
    picture = run(tmp_path, scheme, plans).picture
    assert [group.candidates for group in picture.alike] == [("D", "E")]


def test_a_resubmission_tells_the_total_then_and_now(tmp_path: Path) -> None:
    from plancheck.grading.machine import result_json

    scheme = rubric({"held": {"rules": ["support_spacing"], "each": 10}})
    result = run(tmp_path, scheme, {"A": small(defaults__runs__blue__supports__every="6 ft")})
    before = tmp_path / "before.json"
    before.write_text(result_json(result.klass.rubric, result.made, result.class_, result.picture), encoding="utf-8")
    one = by_name(run(tmp_path, scheme, {"A": SMALL}, before=str(before)))["A"]
    assert (one.total_before, one.total) == (90, 100)
