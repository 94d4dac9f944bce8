"""The manual of each rule: a limit's line shows its sense where it has one, and no empty brackets where it has none."""

from __future__ import annotations

import pytest

from plancheck.loader import LoadedRule, built_in_rules
from plancheck.manual import why_text

RULES = built_in_rules()


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_each_limit_is_named_with_its_sense_and_without_empty_brackets(rule: LoadedRule) -> None:
    text = why_text(rule)
    assert "()" not in text
    lines = text.splitlines()
    for limit in rule.rule.limits:
        sense = f" ({limit.sense})" if limit.sense else ""
        assert f"{limit.id}: {limit.title}{sense}" in lines
