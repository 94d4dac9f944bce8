"""Marking schemes as they are published, written as rubrics: the tool gives the points that their rules give."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.casework import changed
from tests.grading.making import SMALL, aspect, by_name, rubric, run, small


# WorldSkills 2005, plumbing (read): deviation up to 2 mm full points, 2 to 4 mm half, more none
@pytest.mark.parametrize(("miss_mm", "share"), [(0, 1.0), (1.9, 1.0), (2, 1.0), (2.1, 0.5), (4, 0.5), (4.1, 0.0), (30, 0.0)])
def test_full_to_2_mm_half_to_4_none_beyond(tmp_path: Path, miss_mm: float, share: float) -> None:
    bare = {
        "plancheck": 1,
        "parts": {"street": {"is": "source", "at": [0, 0, 0]}, "stop": {"is": "cap", "at": [f"{1000 + miss_mm} mm", 0, 0]}},
        "tubes": {"blue": {"material": "PEX-B", "size": "1/2"}},
        "runs": {"spur": {"from": "street", "to": "stop", "tube": "blue", "path": ["east 1000 mm"]}},
    }
    scheme = rubric({"closes": {"value": "path gap", "full": "2 mm", "half": "4 mm"}})
    assert by_name(run(tmp_path, scheme, {"A": bare}))["A"].total == 100 * share


# Florida contractor examination, isometrics (read): eight criteria that add up to 100 for a drawing, 70 percent to pass
FLORIDA = {
    "legibility": 8, "orientation": 20, "flow-direction": 12, "angles": 8, "piping": 20, "labelling": 4, "vents": 16,
    "fixtures": 12,
}  # fmt: skip


@pytest.mark.parametrize(
    ("levels", "total", "reached"),
    [
        (dict.fromkeys(FLORIDA, 3), 100, True),
        (dict.fromkeys(FLORIDA, 0), 0, False),
        ({**dict.fromkeys(FLORIDA, 3), "piping": 0, "vents": 1}, 100 - 20 - 16 * 2 / 3, False),
        ({**dict.fromkeys(FLORIDA, 3), "orientation": 0, "labelling": 0}, 76, True),
    ],
)
def test_eight_weighted_criteria_and_seventy_to_pass(
    tmp_path: Path, levels: dict[str, int], total: float, reached: bool
) -> None:
    scheme = rubric({name: {"weight": weight, "judge": name} for name, weight in FLORIDA.items()}, **{"pass": 70})
    marks = {"plancheck": 1, "candidates": {"A": {"judge": {f"all/{name}": {"level": level, "by": "one"} for name, level in levels.items()}}}}
    file = tmp_path / "class.marks.json"
    import json

    file.write_text(json.dumps(marks), encoding="utf-8")
    found = by_name(run(tmp_path, scheme, {"A": SMALL}, marks=str(file)))["A"]
    assert found.total == pytest.approx(total, abs=0.05)
    assert found.reached is reached


# A regional contest's sheet (read): three steps, full, half, nothing
THREE_STEPS = [{"faults": 0, "share": 1}, {"faults": 1, "share": 0.5}]


@pytest.mark.parametrize(("supports", "share"), [(0, 1.0), (1, 0.5), (2, 0.0)])
def test_three_steps(tmp_path: Path, supports: int, share: float) -> None:
    runs = [name for name, one in SMALL["runs"].items() if len(one.get("path", ())) > 1][:supports]
    plan = small(**{f"runs__{name}__bends": {"radius": "1 in"} for name in runs})
    assert by_name(run(tmp_path, rubric({"bends": {"rules": ["bend_radius"], "steps": THREE_STEPS}}), {"A": plan}))["A"].total == 100 * share


# Judgement in WorldSkills (from memory): 0 below what the trade takes, 1 takes, 2 in places better, 3 excellent
@pytest.mark.parametrize(("level", "mark"), [(0, 0.0), (1, 33.3), (2, 66.7), (3, 100.0)])
def test_levels_of_judgement(tmp_path: Path, level: int, mark: float) -> None:
    (tmp_path / "m.yaml").write_text(
        f"plancheck: 1\ncandidates: {{A: {{judge: {{all/tidy: {{level: {level}, by: one}}}}}}}}\n", encoding="utf-8"
    )
    found = run(tmp_path, rubric({"tidy": {"judge": "the bench"}}), {"A": SMALL}, marks=str(tmp_path / "m.yaml"))
    assert by_name(found)["A"].total == mark


# Skills Canada 2014 (read): each difference between what is drawn and what is built costs marks
def test_each_difference_from_the_reference_costs(tmp_path: Path) -> None:
    import yaml

    (tmp_path / "ref.plan.yaml").write_text(yaml.safe_dump(SMALL, sort_keys=False), encoding="utf-8")
    scheme = rubric({"like": {"agrees": ["joins"]}}, reference="ref.plan.yaml")
    runs = len(SMALL["runs"])
    more = {"parts/stub": {"is": "cap"}, "runs/loose": {"from": "cold-row/E", "to": "stub", "tube": "blue", "length": "1 ft"}}
    turned = changed(SMALL, {**more, "parts/cold-row/ports/E": {"label": "Spare"}})
    found = by_name(run(tmp_path, scheme, {"same": SMALL, "one-more": turned}))
    assert found["same"].total == 100
    assert aspect(found["one-more"], "like").mark == pytest.approx(100 * runs / (runs + 1))


# Counting down by occurrence to a floor (grading practice): one slip made over and over does not take all
def test_so_much_off_for_each_down_to_a_floor(tmp_path: Path) -> None:
    names = [name for name, one in SMALL["runs"].items() if len(one.get("path", ())) > 1]
    scheme = rubric({"bends": {"rules": ["bend_radius"], "each": 30, "floor": 25}})
    plans = {f"C{number}": small(**{f"runs__{name}__bends": {"radius": "1 in"} for name in names[:number]}) for number in range(5)}
    marks = {name: one.total for name, one in by_name(run(tmp_path, scheme, plans)).items()}
    assert marks == {"C0": 100, "C1": 70, "C2": 40, "C3": 25, "C4": 25}
