"""A plan judged by the built-in rules for drawings and sheets, with the local authority's amendments if a file names them."""

from __future__ import annotations

from collections.abc import Mapping

from plancheck.engine import run_rules
from plancheck.facts import Facts
from plancheck.limits import Amended
from plancheck.loader import LoadedRule, built_in_rules
from plancheck.record import NamedTuple
from plancheck.report.assemble import Options, assemble
from plancheck.report.data import PlanReport


class Judgement(NamedTuple):
    """The rules, the amended limits by rule and limit, and the report."""

    rules: tuple[LoadedRule, ...]
    amended: Mapping[str, Mapping[str, Amended]]
    report: PlanReport


def judged(facts: Facts, amend: str | None) -> Judgement:
    """The judgement of a plan. amend: the file of amendments, if any. Raises Unreadable where that cannot be read."""
    rules = built_in_rules()
    options = Options(known=frozenset(rule.id for rule in rules))
    if amend is not None:
        from plancheck.amendments.load import load_amendments

        options.amendments = load_amendments(amend, rules)
    amended = options.amendments.limits if options.amendments is not None else {}
    return Judgement(rules, amended, assemble(facts, rules, run_rules(rules, facts, amended), options))
