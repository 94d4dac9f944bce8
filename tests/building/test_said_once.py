"""Defaults, like, mirrored, onto, none, not known and about, as the plan file's description has them."""

from __future__ import annotations

import math
from typing import Any

from plancheck.building.build import build_plan
from plancheck.facts import Facts
from plancheck.model import Bends, FixtureOwn, Leg, ManifoldOwn, Supports
from plancheck.reading import read_bytes

TEXT = """\
plancheck: 1
places: {cellar: {level: 0}, bath: {level: 9 ft}, powder: {like: bath, name: Powder room}}
tubes:
  white: {material: PEX-B, size: 3/4, colour: white, print: [ASTM F876]}
  blue: {like: white, size: 1/2, colour: blue}
  sky: {like: blue, colour: natural}
defaults:
  ports: {valve: ball, reach: open}
  parts:
    lavatory: {height: 20 in, faucet: 1.2 gpm, supply: {stop: angle}}
  runs:
    blue: {joint: copper crimp ring, supports: {kind: plastic clip, every: 30 in}, bends: {radius: 5 in}}
    sky: {like: blue, joint: clamp ring}
parts:
  street: {is: source}
  meter: {is: meter, onto: street, place: cellar}
  valve: {is: valve, onto: meter}
  row:
    is: manifold
    place: cellar
    ports: {A: {label: one}, T: {use: test, valve: gate}, F: {use: feed}, O: {use: onward}, N: {valve: not known}}
  one: {is: lavatory, place: bath, left: hot, name: Big basin}
  two: {is: lavatory, like: one, place: powder, faucet: 0.5 gpm}
  three: {is: lavatory, like: two}
  four: {is: lavatory, height: not known}
runs:
  a: {from: row/A, to: one/cold, tube: blue, path: [[1 ft, 2 ft, 0], up 3 ft, east 2 ft and north 1 ft], bundle: bay,
      length: about 12 ft, carries: cold}
  b: {from: row/N, to: two/cold, like: a, mirrored: east-west, places: [powder]}
  c: {from: row/O, to: three/cold, like: b, mirrored: north-south, supports: {kind: metal strap}}
  d: {from: valve, to: row, tube: sky, length: 2 ft, joint: not known}
"""


def plan_and_facts() -> tuple[Any, Facts]:
    source = read_bytes(TEXT.encode(), "x")
    plan = build_plan(source)
    return plan, Facts(plan, source, "2026-05-05")


def test_a_key_of_its_own_then_like_then_defaults() -> None:
    plan, _ = plan_and_facts()
    blue, sky = plan.tubes["blue"], plan.tubes["sky"]
    assert (blue.material, blue.size.name, blue.colour, blue.print) == ("PEX-B", "1/2", "blue", ("ASTM F876",))
    assert (sky.size.name, sky.colour) == ("1/2", "natural")
    one, two, three, four = (plan.parts[name] for name in ("one", "two", "three", "four"))
    for part in (one, two, three, four):
        assert isinstance(part.own, FixtureOwn)
    assert (one.own.faucet.text, two.own.faucet.text, three.own.faucet.text, four.own.faucet.text) == (
        "1.2 gpm", "0.5 gpm", "0.5 gpm", "1.2 gpm",
    )  # fmt: skip
    assert one.height.text == "20 in"
    assert four.height == "not known"  # it stops the default


def test_which_side_is_left_may_be_said_for_a_whole_kind() -> None:
    text = TEXT.replace("  parts:\n", "  parts:\n    bidet: {left: hot}\n", 1).replace("  four:", "  five: {is: bidet}\n  four:")
    source = read_bytes(text.encode(), "x")
    plan = build_plan(source)
    own = plan.parts["five"].own
    assert isinstance(own, FixtureOwn)
    assert own.left == "hot"
    facts = Facts(plan, source, "2026-05-05")
    assert facts.note_of_key(("parts", "five", "left")) == "from defaults"
    assert facts.path_of_key(("parts", "five", "left")) == ("defaults", "parts", "bidet", "left")


def test_like_copies_what_a_thing_is_never_where_it_is() -> None:
    plan, _ = plan_and_facts()
    assert plan.parts["two"].own.left is None
    assert plan.parts["three"].place is None
    assert plan.parts["two"].name is None
    b = plan.runs["b"]
    assert b.bundle is None
    assert b.places == ("powder",)
    assert b.length.text == "about 12 ft"
    assert b.length.about
    assert b.carries == "cold"
    assert plan.runs["c"].places is None


def test_defaults_of_the_tube_also_for_a_copy_and_taken_whole() -> None:
    plan, _ = plan_and_facts()
    assert plan.runs["b"].joint.from_ == "copper crimp ring"
    assert isinstance(plan.runs["b"].bends, Bends)
    c = plan.runs["c"].supports
    assert isinstance(c, Supports)
    assert (c.kind, c.every) == ("metal strap", None)  # nothing is merged inside a key
    assert plan.runs["d"].joint.from_ == "not known"
    assert plan.runs["d"].supports.every.text == "30 in"  # sky is like blue in the defaults


def test_a_path_is_copied_as_a_shape_and_turned_over() -> None:
    plan, _ = plan_and_facts()
    foot = 0.3048

    def legs(run: str) -> list[tuple[float, float, float]]:
        return [
            (round(leg.east_m / foot, 6), round(leg.north_m / foot, 6), round(leg.up_m / foot, 6))
            for leg in plan.runs[run].path
            if isinstance(leg, Leg)
        ]

    assert legs("b") == [(0, 0, 3), (-2, 1, 0)]
    assert legs("c") == [(0, 0, 3), (-2, -1, 0)]  # the copy of a mirror image, turned over again
    assert len(plan.runs["a"].path) == 3


def test_ports_take_their_defaults_by_use() -> None:
    plan, _ = plan_and_facts()
    own = plan.parts["row"].own
    assert isinstance(own, ManifoldOwn)
    assert {name: port.valve for name, port in own.ports.items()} == {
        "A": "ball", "T": "gate", "F": None, "O": None, "N": "not known",
    }  # fmt: skip


def test_onto_takes_the_place_of_what_it_is_made_up_to() -> None:
    plan, _ = plan_and_facts()
    assert plan.parts["valve"].place == "cellar"
    assert str(plan.parts["valve"].onto) == "meter/out"


def test_the_line_printed_is_where_the_value_stands() -> None:
    _, facts = plan_and_facts()
    lines = TEXT.splitlines()

    def line_of(*path: str) -> tuple[str, str]:
        line, _ = facts.source.place(facts.path_of_key(path))
        return lines[line - 1].strip()[:6], facts.note_of_key(path)

    assert line_of("runs", "b", "length") == ("length", "as a")
    assert line_of("runs", "b", "supports") == ("blue: ", "from defaults")
    assert line_of("runs", "c", "supports") == ("c: {fr", "")
    assert line_of("runs", "d", "supports") == ("blue: ", "from defaults")
    assert line_of("parts", "three", "faucet") == ("two: {", "as two")
    assert line_of("runs", "c", "tube") == ("a: {fr", "as a")


def test_a_point_above_a_place_has_no_shape_to_copy() -> None:
    import pytest

    from plancheck.errors import Unreadable

    text = TEXT.replace("[[1 ft, 2 ft, 0], up 3 ft, ", "[up 3 ft, [1 ft, 2 ft, 0], ")
    with pytest.raises(Unreadable) as caught:
        build_plan(read_bytes(text.encode(), "x"))
    assert any("no shape" in one.says for one in caught.value.problems)


def test_mirrored_with_a_path_of_its_own_is_refused() -> None:
    import pytest

    from plancheck.errors import Unreadable

    text = TEXT.replace("bundle: bay,", "bundle: bay, mirrored: east-west,")
    with pytest.raises(Unreadable) as caught:
        build_plan(read_bytes(text.encode(), "x"))
    assert any("mirrored turns over" in one.says for one in caught.value.problems)


def test_measured_shape_of_the_copy_has_the_length_of_the_original() -> None:
    plan, facts = plan_and_facts()
    lengths = [facts.geometry.shapes[name].length_m for name in ("a", "b", "c")]
    assert lengths[0] == lengths[1] == lengths[2]
    assert math.isclose(lengths[0], 0.3048 * (3 + math.sqrt(5)), rel_tol=1e-9)
    assert plan.runs["a"].path is not None
