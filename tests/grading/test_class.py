"""The class of the first exercise: the tool gives what a fair instructor gave by hand, within half a mark an aspect."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from plancheck.gradecalls import Call, Result, run_grade
from plancheck.grading.load import load_rubric
from plancheck.loader import built_in_ids

FOLDER = Path(__file__).parents[2] / "sample_plans" / "grading"
HAND: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "hand_marks.yaml").read_text(encoding="utf-8"))
WITHIN = 0.5


@pytest.fixture(scope="module")
def result() -> Result:
    return run_grade(
        Call(
            str(FOLDER / "manifold-exercise.rubric.yaml"),
            (str(FOLDER / "class"),),
            marks=str(FOLDER / "class.marks.yaml"),
            roster=str(FOLDER / "roster.csv"),
            today="2026-09-20",
            report="json",
        )
    )


def test_the_class_has_at_least_twelve_and_everybody_is_in_the_table(result: Result) -> None:
    assert len(result.class_) >= 12
    assert {one.candidate for one in result.class_} == set(HAND["candidates"])


@pytest.mark.parametrize("candidate", HAND["candidates"])
def test_the_tool_gives_what_was_given_by_hand(result: Result, candidate: str) -> None:
    hand = HAND["candidates"][candidate]
    one = next(one for one in result.class_ if one.candidate == candidate)
    assert bool(one.unread) is hand.get("unread", False)
    for section in one.sections:
        for aspect in section.aspects:
            name = aspect.key.partition("/")[2]
            mark = hand["marks"].get(name, [HAND["full"][name]])[0]
            assert aspect.mark == pytest.approx(mark, abs=0.01), aspect
            assert abs(aspect.mark - mark) <= WITHIN
    assert one.total == hand["total"]
    assert one.before_cap == hand.get("before", hand["total"])
    assert [fault.title for fault in one.critical] == hand.get("critical", [])


def test_the_two_that_are_copies_are_told_and_no_others(result: Result) -> None:
    assert [group.candidates for group in result.picture.alike] == [("A13", "A14")]


@pytest.mark.parametrize("file", sorted(FOLDER.glob("*.rubric.yaml")), ids=lambda file: file.name)
def test_every_rubric_of_ours_is_read(file: Path) -> None:
    assert sum(section.weight for section in load_rubric(str(file), built_in_ids()).sections) == 100


def test_the_default_rubric_names_every_rule() -> None:
    rubric = load_rubric(str(FOLDER / "default.rubric.yaml"), built_in_ids())
    named = {rule for _, aspect in rubric.aspects().values() if aspect.way == "rules" for rule in aspect.rules}
    assert named == set(built_in_ids())
