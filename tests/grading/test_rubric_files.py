"""Rubrics that do not hold together: every fault is told, with its place and how to mend it."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from plancheck.errors import Unreadable
from plancheck.grading.load import load_rubric
from plancheck.loader import built_in_ids
from tests.grading.making import rubric

GOOD = rubric({"sides": {"rules": ["fixture_sides"]}, "closes": {"value": "path gap", "full": "2 mm", "half": "4 mm"}})


def said(tmp_path: Path, scheme: object) -> str:
    """What the loader says of a rubric, line by line."""
    file = tmp_path / "a.rubric.yaml"
    file.write_text(yaml.safe_dump(scheme, sort_keys=False), encoding="utf-8")
    with pytest.raises(Unreadable) as wrong:
        load_rubric(str(file), built_in_ids())
    assert all(one.line for one in wrong.value.problems)
    return "\n".join(f"{one.says} | {one.mend}" for one in wrong.value.problems)


REFERENCE = Path(__file__).parents[2] / "sample_plans" / "grading" / "manifold-exercise.reference.plan.yaml"


def with_aspect(**more: object) -> dict[str, object]:
    return rubric({"it": {**more}})


def test_a_good_rubric_is_read(tmp_path: Path) -> None:
    file = tmp_path / "a.rubric.yaml"
    file.write_text(yaml.safe_dump(GOOD, sort_keys=False), encoding="utf-8")
    found = load_rubric(str(file), built_in_ids())
    closes = found.sections[0].aspects[1]
    assert (closes.full, closes.half, closes.weight) == (pytest.approx(0.002), pytest.approx(0.004), 50)


@pytest.mark.parametrize(
    ("scheme", "says"),
    [
        ({**GOOD, "sections": {"all": {**GOOD["sections"]["all"], "weight": 90}}}, "add up to 90"),
        (rubric({"a": {"weight": 30, "rules": ["fixture_sides"]}, "b": {"weight": 60, "judge": "x"}}), "add up to 90, its own is 100"),
        (with_aspect(rules=["fixture_side"]), "did you mean fixture_sides"),
        (with_aspect(value="path gap", full="2 psi"), "length"),
        (with_aspect(value="path gap"), "has no band"),
        (with_aspect(value="path gap", full="4 mm", half="2 mm"), "harder to have"),
        (with_aspect(value="pressure left", full="5 psi", half="8 psi"), "harder to have"),
        (with_aspect(value="shower swing", full="3.6"), "no difference of temperatures"),
        (with_aspect(agrees=["joins"]), "no layout to compare with"),
        (with_aspect(rules=["fixture_sides"], steps=[{"faults": 2, "share": 1}, {"faults": 0, "share": 0.5}]), "few faults to many"),
        (with_aspect(rules=["fixture_sides"], floor=101), "floor"),
        (with_aspect(rules=["fixture_sides"], steps=[{"faults": 1, "share": 0.5}]), "do not begin with no root cause"),
        (with_aspect(rules=["fixture_sides"], steps=[{"faults": 0, "share": 1}], each=2), "by steps and by each cause at once"),
        (with_aspect(value="path gap", full="-2 mm"), "below zero"),
        ({**with_aspect(given=["water/no-such-key"]), "reference": str(REFERENCE)}, "says nothing at water/no-such-key"),
        ({**with_aspect(given=["foo/bar/baz"]), "reference": str(REFERENCE)}, "says nothing at foo/bar/baz"),
        (with_aspect(rules=["fixture_sides"], judge="x"), ""),
        (with_aspect(), ""),
        ({**GOOD, "critical": {"x": {"title": "X", "rules": ["fixture_sides"], "fails": "none"}}}, "no section 'none'"),
        ({**GOOD, "critical": {"x": {"title": "X", "rules": ["fixture_sides"]}}}, "it needs rules and cap"),
        ({**GOOD, "critical": {"x": {"title": "X", "fewest": {"fixturs": 1}, "cap": 9}}}, "a plan has no 'fixturs' to count"),
        ({**GOOD, "critical": {"x": {"title": "X", "says": ["water/nonsense"], "cap": 9}}}, "a plan has no key water/nonsense"),
        ({**GOOD, "reference": "nowhere.plan.yaml"}, "there is no file"),
        ({**GOOD, "nonsense": 1}, "nonsense"),
        ({"plancheck": 1, "title": "X"}, "sections"),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, scheme: object, says: str) -> None:
    assert says in said(tmp_path, scheme)


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    scheme = rubric({"a": {"weight": 30, "rules": ["no_such"]}, "b": {"weight": 30, "value": "hot wait", "full": "2 psi"}})
    assert said(tmp_path, scheme).count("\n") == 2
