"""Small plans for the tests of the shape stage, and what is said of them."""

from __future__ import annotations

from plancheck.errors import Problem, Unreadable
from plancheck.reading import read_bytes
from plancheck.shape import check_shape

MARK = "§"


def refusal(text: str) -> Unreadable | None:
    """What the shape stage raises for a file with this text, or None where it takes it."""
    source = read_bytes(text.encode("utf-8"), "plan.yaml")
    try:
        check_shape(source)
    except Unreadable as refused:
        return refused
    return None


def problems(text: str) -> tuple[Problem, ...]:
    """The problems of a text that is refused."""
    refused = refusal(text)
    assert refused is not None, "the plan was taken"
    return refused.problems


def marked(text: str) -> tuple[str, list[tuple[int, int]]]:
    """The text without its marks, and line and column, from 1, of what each mark stood before."""
    places = []
    while MARK in text:
        before, after = text.split(MARK, 1)
        places.append((before.count("\n") + 1, len(before) - before.rfind("\n")))
        text = before + after
    return text, places
