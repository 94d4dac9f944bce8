"""What the reader takes, compared with PyYAML's own loader and with the json module; and where values stand."""

from __future__ import annotations

import json
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from plancheck.errors import Unreadable
from plancheck.reading import Source, read_bytes

TEXT = """\
# a remark
plancheck: 1
parts:
  street: {is: source}
  "1": [up 2 ft, [10 ft, 0, 5.5]]
runs:
  a-b:
    from: street
    flags: [true, false, 7, -3, 2.5, 2026-04-02, "yes", '010', 1/2, 3/4 in]
"""


def test_values_and_keys() -> None:
    data = read_bytes(TEXT.encode(), "x").data
    assert data["parts"]["1"] == ["up 2 ft", ["10 ft", 0, 5.5]]
    flags = data["runs"]["a-b"]["flags"]
    assert flags == [True, False, 7, -3, 2.5, "2026-04-02", "yes", "010", "1/2", "3/4 in"]


@pytest.mark.parametrize(
    ("path", "value_at", "key_at"),
    [
        (("plancheck",), (2, 12), (2, 1)),
        (("parts", "street", "is"), (4, 16), (4, 12)),
        (("parts", "1"), (5, 8), (5, 3)),
        (("parts", "1", 1, 2), (5, 29), (5, 29)),
        (("runs", "a-b", "flags", 6), (9, 50), (9, 50)),
        (("runs", "a-b", "nothing", "there"), (8, 5), (7, 3)),
        ((), (1, 1), (1, 1)),
    ],
)
def test_places(path: tuple[str | int, ...], value_at: tuple[int, int], key_at: tuple[int, int]) -> None:
    source = read_bytes(TEXT.encode(), "x")
    assert source.place(path) == value_at
    assert source.key_place(path) == key_at


def test_carriage_returns_and_wide_characters_keep_places() -> None:
    source = read_bytes("a: 1\r\nb: {é😀: 2, c: 3}\r\n".encode(), "x")
    assert source.place(("b", "c")) == (2, 15)


def test_json_plan_with_surrogate_pairs() -> None:
    data = {"plancheck": 1, "label": "pipe 😀 \\ud83d", "list": [1, 2.5, True, "x/y"]}
    assert read_bytes(json.dumps(data).encode(), "x").data == data


SCALARS = st.one_of(
    st.integers(-(10**9), 10**9),
    st.booleans(),
    st.floats(-1e6, 1e6, allow_nan=False).map(lambda number: round(number, 3)),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=12),
    st.sampled_from(
        ["yes", "on", "010", "1:30", "1e5", ".inf", "null", "~", "", "0x1F", "=", "<<", "2026-01-02", "1_0"]
    ),
)
KEYS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), min_size=1, max_size=6)
DATA = st.dictionaries(
    KEYS,
    st.recursive(
        SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=12
    ),
    min_size=1,
    max_size=5,
)


@settings(max_examples=300, deadline=None)
@given(DATA, st.booleans())
def test_what_is_read_is_what_was_written(data: dict[str, Any], flow: bool) -> None:
    """Written by PyYAML and by json, read by us: the same values, or refused, never another value."""
    for text in (
        yaml.safe_dump(data, allow_unicode=True, default_flow_style=flow, width=1000, sort_keys=False),
        json.dumps(data),
        json.dumps(data, ensure_ascii=False),
    ):
        try:
            found = read_bytes(text.encode(), "x").data
        except Unreadable:
            continue
        assert found == data
        assert [type(value) for value in _leaves(found)] == [type(value) for value in _leaves(data)]


def _leaves(data: Any) -> list[Any]:
    if isinstance(data, dict):
        return [leaf for value in data.values() for leaf in _leaves(value)]
    if isinstance(data, list):
        return [leaf for value in data for leaf in _leaves(value)]
    return [data]


@settings(max_examples=300, deadline=None)
@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(lambda text: text.encode("utf-8", "replace"))))
def test_any_bytes_are_read_or_refused_with_a_line(raw: bytes) -> None:
    try:
        source = read_bytes(raw, "x")
    except Unreadable as refused:
        assert refused.problems
        assert all(
            problem.line >= 1 and problem.column >= 1 and problem.says and problem.mend for problem in refused.problems
        )
    else:
        assert isinstance(source.data, dict)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.sampled_from(
            [*"[]{},:&*!|>'\"%@`#-? \n\t", "a", "b: 1", "- x", "---", "...", "<<", "\\", "é", "\x07", "1e5"]
        ),
        max_size=40,
    )
)
def test_punctuation_soup(pieces: list[str]) -> None:
    try:
        read_bytes("".join(pieces).encode(), "x")
    except Unreadable as refused:
        assert all(problem.line >= 1 for problem in refused.problems)


def test_places_hold_for_every_value_of_a_dumped_plan() -> None:
    text = yaml.safe_dump({"a": {"b": [1, {"c": "x"}]}, "d": "last"})
    source = read_bytes(text.encode(), "x")
    for path, shown in ((("a", "b", 1, "c"), "x"), (("d",), "last"), (("a", "b", 0), "1")):
        assert _at(source, text, path).startswith(shown)


def _at(source: Source, text: str, path: tuple[str | int, ...]) -> str:
    line, column = source.place(path)
    return text.splitlines()[line - 1][column - 1 :]
