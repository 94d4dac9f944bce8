"""The inspector's order holds every rule once."""

from __future__ import annotations

from plancheck.loader import built_in_ids
from plancheck.pack.walk import OTHER, STEPS, step_of


def test_every_rule_has_its_step_and_no_step_names_another() -> None:
    named = [rule for step in STEPS for rule in step.rules]
    assert sorted(named) == built_in_ids()


def test_a_rule_of_another_folder_comes_last() -> None:
    assert step_of("house_rule") == OTHER


def test_the_order_is_that_of_the_published_lists() -> None:
    # rough-in lists of Detroit and MyBuildingPermit (2016), read: paper and access, the test, then pipe, joints, supports,
    # protection, and devices after that
    titles = [step.title for step in STEPS]
    walk = ["Paper", "Open and within reach", "Test standing", "What the pipe is", "Joints", "Support"]
    assert titles[: len(walk)] == walk
    assert titles.index("Framing, concrete and ground") < titles.index("Valves and devices") < titles.index("Ground")
