"""Statistics of a class against numpy and scipy; groups under five get none; near-identical plans are told."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import stats

from plancheck.check import facts_of
from plancheck.grading.alike import features_of, near_identical
from plancheck.grading.picture import class_picture, separates
from plancheck.grading.results import AspectMark, Graded, SectionMark
from plancheck.reading import read_bytes
from tests.casework import changed
from tests.grading.making import SMALL, rubric, run, small


def one(name: str, marks: list[float]) -> Graded:
    """A candidate with so many marks in aspects of ten each."""
    aspects = tuple(AspectMark(f"all/a{number}", f"a{number}", 10.0, mark, "marked", "") for number, mark in enumerate(marks))
    return Graded(name, "", sum(marks), sum(marks), None, (SectionMark("all", "All", 10.0 * len(marks), sum(marks), aspects),))


def made(size: int, seed: int = 7) -> list[Graded]:
    rng = random.Random(seed)
    return [one(f"C{number:02}", [round(rng.uniform(0, 10), 1) for _ in range(6)]) for number in range(size)]


@pytest.mark.parametrize("size", [5, 6, 23, 200])
def test_figures_of_the_totals_are_numpys(size: int) -> None:
    class_ = made(size)
    totals = np.array([each.total for each in class_])
    found = class_picture(class_)
    assert found.mean == pytest.approx(totals.mean())
    assert found.median == pytest.approx(np.median(totals))
    assert found.spread == pytest.approx(totals.std(ddof=1))
    assert (found.lowest, found.highest) == (totals.min(), totals.max())
    assert sum(count for _, count in found.bands) == size


@pytest.mark.parametrize("seed", range(5))
def test_how_an_aspect_separates_is_scipys_correlation_with_the_rest(seed: int) -> None:
    class_ = made(40, seed)
    table = np.array([[aspect.mark for aspect in each.sections[0].aspects] for each in class_])
    for number, found in enumerate(sorted(class_picture(class_).aspects, key=lambda aspect: aspect.key)):
        rest = table.sum(axis=1) - table[:, number]
        assert found.separates == pytest.approx(stats.pearsonr(table[:, number], rest).statistic)
        assert found.mean == pytest.approx(table[:, number].mean() / 10)


def test_an_aspect_in_which_all_are_alike_tells_nothing() -> None:
    assert separates([1.0, 1.0, 1.0], [1.0, 2.0, 3.0]) is None
    assert separates([0.0, 0.5, 1.0], [2.0, 2.0, 2.0]) is None


def test_groups_under_five_get_no_figures() -> None:
    found = class_picture(made(4))
    assert found.withheld
    assert (found.mean, found.aspects, found.missed, found.bands) == (None, (), (), ())
    unread = Graded("X", "", 0.0, 0.0, None, unread=("no",))
    assert class_picture([*made(4), unread]).withheld  # one that cannot be read is no fifth
    assert not class_picture(made(5)).withheld


def facts(plan: dict[str, Any]) -> Any:
    import json

    return facts_of(read_bytes(json.dumps(plan).encode(), "x"), "2026-05-05")


def renamed(plan: dict[str, Any]) -> dict[str, Any]:
    """The plan with every part and run called otherwise."""
    parts, runs = plan["parts"], plan["runs"]

    def other(text: str) -> str:
        name, slash, connection = text.partition("/")
        return f"q-{name}{slash}{connection}" if name in parts or text in runs else text

    def turned(entry: dict[str, Any]) -> dict[str, Any]:
        ends = ("from", "to", "onto", "like")
        return {key: other(value) if key in ends else value for key, value in entry.items()}

    made = {**plan, "water": {**plan["water"], "gauge": other(plan["water"]["gauge"])}}
    for section in ("parts", "runs"):
        made[section] = {f"q-{name}": turned(entry) for name, entry in plan[section].items()}
    return made


def test_a_copy_with_other_names_is_near_identical_and_another_plan_is_not() -> None:
    copy = features_of(facts(renamed({**SMALL, "job": {"title": "Mine", "by": "me"}})))
    other = changed(SMALL, {f"runs/{name}/length": f"{7 + number} ft" for number, name in enumerate(SMALL["runs"])})
    found = near_identical({"A": features_of(facts(SMALL)), "B": copy, "C": features_of(facts(other))})
    assert found == [(("A", "B"), 1.0)]


def test_the_class_is_told_of_the_pair(tmp_path: Path) -> None:
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}})
    found = run(tmp_path, scheme, {"A": SMALL, "B": small(job__title="Other"), "C": small(water__static="61 psi", job__stage="layout")})
    assert [(group.candidates, group.share > 0.97) for group in found.picture.alike] == [(("A", "B", "C"), True)]


def test_a_chain_of_copies_is_one_group() -> None:
    base = frozenset(range(100))
    chain = {f"C{step}": (base - frozenset(range(step))) | frozenset(range(1000, 1000 + step)) for step in range(4)}
    assert [group.candidates for group in near_identical(chain)] == [("C0", "C1", "C2", "C3")]
    assert near_identical({"A": base, "B": frozenset(range(50, 150))}) == []
    assert near_identical({"A": frozenset((1, 2)), "B": frozenset((1, 2))}) == []  # too little to tell


def test_rules_missed_count_each_plan_once(tmp_path: Path) -> None:
    scheme = rubric({"bends": {"rules": ["bend_radius"], "each": 1}})
    wrong = small(defaults__runs__blue__bends__radius="2 in", defaults__runs__red__bends={"radius": "1 in"})
    plans = {f"C{number}": wrong if number < 2 else small(job__title=str(number)) for number in range(6)}
    assert run(tmp_path, scheme, plans).picture.missed == (("bend_radius", 2),)
