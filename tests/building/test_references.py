"""Every wrong name of a plan is told at once, with its place and the nearest right one."""

from __future__ import annotations

import pytest

from plancheck.building.build import build_plan
from plancheck.errors import Unreadable
from plancheck.model import Plan
from plancheck.reading import read_bytes

HEAD = """\
plancheck: 1
places: {cellar: {level: 0}, bath: {level: 9 ft}}
tubes: {blue: {material: PEX-B, size: 1/2}}
parts:
  street: {is: source}
  valve: {is: valve, onto: street}
  tee: {is: tee, place: cellar}
  lav: {is: lavatory, place: bath}
  sink: {is: kitchen sink, place: bath, supply: {stop: dual}}
  row: {is: manifold, place: cellar, ports: {in: {use: feed}, A: {}, B: {}, S: {use: section}}}
"""


def built(text: str) -> Plan:
    return build_plan(read_bytes((HEAD + text).encode(), "x.plan.yaml"))


def refused(text: str) -> list[tuple[int, int, str]]:
    with pytest.raises(Unreadable) as caught:
        built(text)
    return [(one.line, one.column, f"{one.says} | {one.mend}") for one in caught.value.problems]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("runs: {a: {from: §valv, to: tee, tube: blue}}", ["no part 'valv'", "did you mean valve"]),
        ("runs: {a: {from: valve, to: §row/C, tube: blue}}", ["no connection 'C'", "in, A, B"]),
        ("runs: {a: {from: valve, to: §row/S, tube: blue}}", ["no connection 'S'"]),
        ("runs: {a: {from: §row, to: tee, tube: blue}}", ["which connection of row", "row/A"]),
        ("runs: {a: {from: §tee, to: row, tube: blue}}", ["which connection of tee", "tee/branch"]),
        ("runs: {a: {from: valve, to: §lav, tube: blue}}", ["which connection of lav", "lav/hot"]),
        ("runs: {a: {from: valve, to: tee, tube: §bleu}}", ["'bleu' is not in tubes", "did you mean blue"]),
        (
            "runs: {a: {from: valve, to: tee, tube: blue}, b: {from: row/A, to: §tee, tube: blue}}",
            ["tee/in is used twice", "runs.a"],
        ),
        (
            "runs: {a: {from: valve, to: tee, tube: blue, places: [cellar, §bth]}}",
            ["'bth' is not in places", "bath"],
        ),
        ("runs: {a: {from: valve, to: tee, like: §b}}", ["'b' is not in runs"]),
        (
            "runs: {a: {from: valve, to: tee, like: §b}, b: {from: row/A, to: lav/hot, like: a}}",
            ["a circle: a is like b is like a"],
        ),
        ("heat: {a: {like: §b}}", ["'b' is not in heat"]),
        ("heat: {a: {like: §b}, b: {like: a}}", ["a circle: a is like b is like a"]),
        ("water: {gauge: §vale}", ["'vale' is not in parts", "did you mean valve"]),
        ("measured: {one: {at: §row/X, reads: 50 psi}}", ["'row/X' is not in parts"]),
        ("tests: {rough: {isolated: [§heater]}}", ["'heater' is not in parts"]),
        (
            "runs: {a: {from: valve, to: tee, tube: blue, clear: {flue: §8 in beside}}}",
            ["'flue' is not in heat"],
        ),
        (
            "runs: {a: {from: valve, to: tee, tube: blue, path: [§[1 ft, 0, 3 in above attic]]}}",
            ["'attic' is not in places"],
        ),
    ],
)
def test_wrong_name(text: str, words: list[str]) -> None:
    """The sign § stands where the problem must be told."""
    line, column = 11, text.index("§") + 1
    problems = refused(text.replace("§", "") + "\n")
    met = [one for one in problems if one[:2] == (line, column) and all(word in one[2] for word in words)]
    assert met, problems


def test_all_wrong_names_at_once_in_file_order() -> None:
    problems = refused("runs:\n  a: {from: valv, to: tea, tube: bleu}\n  b: {from: valve, to: tee/side, tube: blue}\n")
    assert [(line, column) for line, column, _ in problems] == [(12, 13), (12, 23), (12, 34), (13, 24)]


def test_wrong_values_are_told_with_wrong_names() -> None:
    problems = refused("runs:\n  a: {from: valv, to: tee, tube: blue, length: 3 fet, path: [up 3, sideways 2 ft]}\n")
    words = " ".join(said for _, _, said in problems)
    for part in ("no part 'valv'", "3 fet", "sideways"):
        assert part in words
    assert len(problems) == 4


def test_a_dual_stop_takes_two() -> None:
    plan = built("  washer: {is: dishwasher, onto: sink/hot}\nruns: {a: {from: row/A, to: sink/hot, tube: blue}}\n")
    assert str(plan.parts["washer"].onto) == "sink/hot"
    problems = refused(
        "  washer: {is: dishwasher, onto: sink/hot}\n  ice: {is: ice maker, onto: sink/hot}\n"
        "runs: {a: {from: row/A, to: sink/hot, tube: blue}}\n"
    )
    assert "sink/hot is used twice" in problems[0][2]
    assert "a dual stop takes two" in problems[0][2]


@pytest.mark.parametrize(("stop", "dual"), [("angle", True), ("straight", True), ("none", False), ("integral", False)])
def test_two_ends_at_a_stop_of_one_outlet_name_the_dual_stop(stop: str, dual: bool) -> None:
    """A dishwasher on the sink's stop is what a dual stop is for; a tee helps where there is no such stop."""
    problems = refused(
        f"  bar: {{is: bar sink, supply: {{stop: {stop}}}}}\n  washer: {{is: dishwasher, onto: bar/hot}}\n"
        "runs: {a: {from: row/A, to: bar/hot, tube: blue}}\n"
    )
    assert "bar/hot is used twice" in problems[0][2]
    assert "join them in a tee" in problems[0][2]
    assert ("say stop: dual" in problems[0][2]) == dual


def test_source_none_or_two() -> None:
    with pytest.raises(Unreadable) as caught:
        build_plan(read_bytes(b"plancheck: 1\nparts:\n  tee: {is: tee}\n", "x"))
    assert "no part is the source" in caught.value.problems[0].says
    problems = refused("  main: {is: source}\n")
    assert "second source" in problems[0][2]


def test_a_circle_of_parts_made_up_to_each_other() -> None:
    problems = refused("  a: {is: valve, onto: b}\n  b: {is: valve, onto: a}\n")
    assert any("a circle: a onto b onto a" in said for _, _, said in problems)


def test_hot_none_but_joined() -> None:
    problems = refused("  bar: {is: bar sink, hot: none}\nruns: {a: {from: row/A, to: bar/hot, tube: blue}}\n")
    assert any("written as none" in said for _, _, said in problems)


def test_things_that_hang_in_the_air_are_no_errors() -> None:
    plan = built("runs: {a: {from: row/A, to: tee/branch, tube: blue}}\n")
    assert set(plan.parts) == {"street", "valve", "tee", "lav", "sink", "row"}


def test_manifold_order() -> None:
    plan = built("  m: {is: manifold, order: [B, in, A], ports: {in: {use: feed}, A: {}, B: {}}}\n")
    assert list(plan.parts["m"].own.ports) == ["B", "in", "A"]  # type: ignore[union-attr]
    problems = refused("  m: {is: manifold, order: [B, C, B], ports: {in: {use: feed}, A: {}, B: {}}}\n")
    words = " ".join(said for _, _, said in problems)
    assert "no port 'C'" in words
    assert "'B' stands twice" in words
    assert "leaves out in, A" in words


@pytest.mark.parametrize(
    "key", ["length: -3 ft", "cover: -1 in", "supports: {every: -30 in}", "bends: {radius: -5 in}"]
)
def test_a_length_below_zero_is_refused(key: str) -> None:
    problems = refused("runs: {a: {from: valve, to: tee, tube: blue, " + key + "}}\n")
    assert "is below zero" in problems[0][2]
    built("runs: {a: {from: valve, to: tee, tube: blue, length: 3 ft, rise: -3 ft}}\n")
