"""What the head of a report and the manual say of amendments."""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.amendments.load import Amendments
from plancheck.limits import Amended, Limit, Limits
from plancheck.loader import LoadedRule
from plancheck.measures import US, Units
from plancheck.outcomes import Measured
from plancheck.report.figures import figure


def remarks_on(
    amendments: Amendments, rules: Iterable[LoadedRule], family: str | None, edition: int | None, units: Units, today: str = ""
) -> tuple[str, ...]:
    """By whom the limits are amended; then every limit that is looser than the model code's, switched off or only advice."""
    base = f", based on {amendments.based_on}" if amendments.based_on else ""
    head = f"Amended by {amendments.authority} {amendments.edition} of {amendments.date} ({amendments.file}{base})."
    found = [head]
    if today and amendments.date > today:
        found.append(f"That is after the day of this check, {today}: ask {amendments.authority} whether it is in force yet. It was applied.")
    code = Limits(family, edition)
    for rule in rules:
        own = amendments.limits.get(rule.id, {})
        for limit in rule.rule.limits:
            amended = own.get(limit.id)
            if amended is not None:
                says = _looser(limit, amended, code, units)
                by = f"{amended.source.named}, because {amended.because}"
                found.extend(f"{rule.id}.{limit.id} {words}: {by}." for words in says)
    return tuple(found)


def _looser(limit: Limit, amended: Amended, code: Limits, units: Units) -> list[str]:
    if amended.off:
        return ["is switched off"]
    says = []
    base = code.maybe(limit)
    if base is not None and not base.practice and amended.value is not None and _is_looser(limit, amended, base.value):
        here, there = (figure(Measured(value, limit.unit), units).words for value in (amended.value, base.value))
        says.append(f"is looser than the model code: {limit.sense} {here}, not {there} ({base.source.named})")
    if amended.severity == "advice" and not (base is not None and base.practice):
        says.append("gives advice only")
    return says


def _is_looser(limit: Limit, amended: Amended, base: float | str) -> bool:
    if isinstance(base, str) or isinstance(amended.value, str) or amended.value is None:
        return False
    return amended.value < base if limit.sense == "at least" else limit.sense == "at most" and amended.value > base


def manual_words(limit: Limit, amended: Amended) -> str:
    """What an authority says of a limit, for `why`."""
    if amended.off:
        words = "switched off"
    else:
        value = f"{figure(Measured(amended.value, limit.unit), US).words}" if amended.value is not None else ""
        severity = f"findings are {amended.severity}" if amended.severity is not None else ""
        words = "; ".join(filter(None, (value, severity)))
    return f"{words}: {amended.source}, because {amended.because}"
