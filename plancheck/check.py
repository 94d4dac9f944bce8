"""One plan from file to report: the straight line of stages, callable from anywhere."""

from __future__ import annotations

from plancheck.building.build import build_plan
from plancheck.engine import run_rules
from plancheck.facts import Facts
from plancheck.loader import LoadedRule, built_in_rules
from plancheck.reading import Source, read_plan
from plancheck.report.assemble import Options, assemble
from plancheck.report.data import PlanReport
from plancheck.shape import check_shape


def check_file(
    file: str, today: str, rules: tuple[LoadedRule, ...] | None = None, options: Options | None = None
) -> PlanReport:
    """The report on the plan in the file. today is a day as text (2026-04-02).

    Raises Unreadable where the file is no plan.
    """
    return check_source(read_plan(file), today, rules, options)


def check_source(
    source: Source, today: str, rules: tuple[LoadedRule, ...] | None = None, options: Options | None = None
) -> PlanReport:
    """The report on a plan already read. Raises Unreadable where it is no plan."""
    facts = facts_of(source, today)
    chosen = built_in_rules() if rules is None else rules
    options = options or Options()
    amended = options.amendments.limits if options.amendments is not None else None
    return assemble(facts, chosen, run_rules(chosen, facts, amended), options)


def facts_of(source: Source, today: str) -> Facts:
    """The facts of a plan already read. Raises Unreadable where it is no plan."""
    check_shape(source)
    return Facts(build_plan(source), source, today)
