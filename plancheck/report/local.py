"""What local files do to a report beside the rules' answers: findings accepted before, remarks at its head."""

from __future__ import annotations

from typing import TYPE_CHECKING

from plancheck.engine import Judged
from plancheck.facts import Facts
from plancheck.loader import LoadedRule
from plancheck.outcomes import CRASHED
from plancheck.report.data import Finding, Stale

if TYPE_CHECKING:
    from plancheck.report.assemble import Options


def part_accepted(
    facts: Facts, found: list[Finding], judged: tuple[Judged, ...], ran: frozenset[str], options: Options
) -> tuple[list[Finding], tuple[Finding, ...], tuple[Stale, ...]]:
    """The findings to tell, those accepted before, and what was accepted and is found no more."""
    if options.accepted is None:
        return found, (), ()
    from plancheck.accepted import part

    failed = {one.rule for one in judged if one.outcome.kind == CRASHED}
    return part(options.accepted, facts.source.file, found, ran - failed, options.known | ran)


def local_remarks(
    facts: Facts, rules: tuple[LoadedRule, ...], accepted: tuple[Finding, ...], options: Options
) -> tuple[str, ...]:
    """What the head of the report says of amendments and of findings accepted before."""
    found: tuple[str, ...] = ()
    if options.amendments is not None:
        from plancheck.amendments.remarks import remarks_on

        found = remarks_on(options.amendments, rules, facts.family, facts.edition, facts.units, facts.today)
    if options.accepted is not None:
        file, day = options.accepted.file, options.accepted.recorded
        found += (
            f"Findings accepted as of {day} ({file}) are told no more: {len(accepted)}. Hazards are, every time.",
        )
    return found
