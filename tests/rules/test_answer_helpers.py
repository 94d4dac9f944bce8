"""Small helpers of rules: capitals, what was fished, and lengths that nothing is compared with."""

from __future__ import annotations

from pathlib import Path

import pytest

from plancheck.answers import capital, fished_at
from plancheck.check import facts_of
from plancheck.measures import read_length
from plancheck.model import Run
from plancheck.reading import read_bytes
from tests.casework import TODAY

PLANS = Path(__file__).parents[2] / "sample_plans"


@pytest.mark.parametrize(
    ("words", "told"), [("heater 2", "Heater 2"), ("", ""), ("PEX", "PEX"), ("é", "É"), ("3/4", "3/4")]
)
def test_a_sentence_begins_with_a_capital(words: str, told: str) -> None:
    assert capital(words) == told


@pytest.mark.parametrize(
    ("fished", "at", "answer"),
    [
        (True, None, True),
        (True, "3 ft", True),
        (False, "3 ft", False),
        (None, "3 ft", False),
        (("2 ft", "4 ft"), "3 ft", True),
        (("4 ft", "2 ft"), "3 ft", True),
        (("2 ft", "4 ft"), "2 ft", True),
        (("2 ft", "4 ft"), "4 ft 1 in", False),
        (("2 ft", "4 ft"), None, False),
    ],
)
def test_what_lies_where_the_tube_was_fished(fished: object, at: str | None, answer: bool) -> None:
    said = tuple(read_length(one) for one in fished) if isinstance(fished, tuple) else fished
    run = Run(id="bath")._replace(fished=said)
    assert fished_at(run, read_length(at) if at is not None else at) is answer


@pytest.mark.parametrize(
    ("plan", "length", "told"),
    [
        ("boathouse", "54 ft 5-9/16 in", "54 ft 6 in"),
        ("boathouse", "10 ft 3/4 in", "10 ft 1 in"),
        ("boathouse", "9 ft 5-9/16 in", "9 ft 5-9/16 in"),
        ("metric-house", "16.601 m", "16.6 m"),
    ],
)
def test_a_long_length_is_told_in_whole_inches(plan: str, length: str, told: str) -> None:
    raw = (PLANS / f"{plan}.plan.yaml").read_bytes()
    assert facts_of(read_bytes(raw, "a.plan.yaml"), TODAY).long_length(read_length(length).m) == told
