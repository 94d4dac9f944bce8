"""PyYAML without libyaml: the same values, places and refusals from its Python events, only slower."""

from __future__ import annotations

import pytest
import yaml

from plancheck.errors import Unreadable
from plancheck.reading import read_bytes
from tests.reading.test_reading import TEXT
from tests.reading.test_refusals import REFUSED

# libyaml and PyYAML's Python scanner complain of different places in these, so only the refusal itself is compared
ELSEWHERE = {
    "open bracket",
    "open quote",
    "tab after spaces",
    "two colons",
    "bad escape",
    "control character",
    "at sign",
}


def test_the_same_values_and_places(monkeypatch: pytest.MonkeyPatch) -> None:
    quick = read_bytes(TEXT.encode(), "x")
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    slow = read_bytes(TEXT.encode(), "x")
    assert slow.data == quick.data
    for path in (("plancheck",), ("parts", "street", "is"), ("parts", "1", 1, 2), ("runs", "a-b", "flags", 6)):
        assert slow.place(path) == quick.place(path)
        assert slow.key_place(path) == quick.key_place(path)


@pytest.mark.parametrize("row", REFUSED, ids=[row[0] for row in REFUSED])
def test_the_same_refusals(monkeypatch: pytest.MonkeyPatch, row: tuple[str, str, int, int, str]) -> None:
    name, text, line, _, words = row
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    with pytest.raises(Unreadable) as caught:
        read_bytes(text.encode(), "x")
    assert caught.value.problems[0].line >= 1
    if name not in ELSEWHERE:
        assert line in [problem.line for problem in caught.value.problems if words in problem.says]
