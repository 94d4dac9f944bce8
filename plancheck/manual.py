"""`why RULE` and `rules`: the manual, printed from the rule files themselves."""

from __future__ import annotations

import sys
import textwrap
from typing import TYPE_CHECKING

from plancheck.errors import Problem, Unreadable
from plancheck.limits import FAMILIES, Limit, Value
from plancheck.loader import LoadedRule, all_rules, built_in_ids
from plancheck.measures import US
from plancheck.outcomes import Measured
from plancheck.report.figures import figure
from plancheck.words import HEADINGS

WIDTH = 92


if TYPE_CHECKING:
    from collections.abc import Mapping

    from plancheck.limits import Amended


def print_why(name: str, folder: str | None, amend: str | None = None) -> int:
    """Prints a rule's words, limits and sources, as the amendments file has them if one is named.

    Raises Unreadable where there is no such rule, and where the amendments cannot be read.
    """
    loaded = all_rules(folder, () if amend is not None else (name,))
    rules = {rule.id: rule for rule in loaded}
    amended: Mapping[str, Mapping[str, Amended]] = {}
    if amend is not None:
        from plancheck.amendments.load import load_amendments

        amended = load_amendments(amend, loaded).limits
    if name == "waiver":
        sys.stdout.write(_waiver_text())
        return 0
    if name not in rules:
        from plancheck.building.notes import nearest

        mend = f"{nearest(name, [*built_in_ids(), *rules])}plancheck rules lists them"
        raise Unreadable((Problem("the command line", 0, 0, f"there is no rule '{name}'", mend),))
    sys.stdout.write(why_text(rules[name], amended.get(name)))
    return 0


def why_text(rule: LoadedRule, amended: Mapping[str, Amended] | None = None) -> str:
    """A rule's manual as text. amended: what an authority says of its limits, by their names."""
    words = rule.words
    lines = [f"{rule.id}: {words.title}", ""]
    for heading, text in zip(HEADINGS, words[1:], strict=True):
        lines.extend(_hung(f"{heading}: ", text))
    lines += ["", f"Severity: {rule.rule.highest} at most. Judged from the {rule.rule.stage} stage on."]
    for limit in rule.rule.limits:
        lines += ["", *_limit(limit)]
        if amended and limit.id in amended:
            from plancheck.amendments.remarks import manual_words

            lines.extend(_hung("    in force ", manual_words(limit, amended[limit.id])))
    if not rule.rule.limits:
        lines += ["", "It compares with no number."]
    return "\n".join(lines) + "\n"


def _waiver_text() -> str:
    """The manual of what judges the waivers themselves, which is no rule file."""
    from plancheck.report.waivers import WORDS
    from plancheck.words import words_of

    words = words_of(WORDS)
    lines = [f"waiver: {words.title}", ""]
    for heading, text in zip(HEADINGS, words[1:], strict=True):
        lines.extend(_hung(f"{heading}: ", text))
    return "\n".join([*lines, "", "Severity: correction at most. Judged at every stage."]) + "\n"


def _hung(head: str, text: str) -> list[str]:
    return textwrap.wrap(head + text, WIDTH, subsequent_indent="    ", break_on_hyphens=False)


def _limit(limit: Limit) -> list[str]:
    sense = f" ({limit.sense})" if limit.sense else ""  # a demand in words has none
    lines = [f"{limit.id}: {limit.title}{sense}"]
    if not any(getattr(limit, family) for family in (*FAMILIES, "practice")):
        lines.append("    no code has a value: not judged unless amended")
    for family in (*FAMILIES, "practice"):
        for value in getattr(limit, family):
            lines.extend(_hung(f"    {family:<9}", _value(limit, value)))
    return lines


def _value(limit: Limit, value: Value) -> str:
    words = figure(Measured(value.value, limit.unit), US).words
    since = f" from {value.since} on" if value.since else ""
    advice = "; gives advice at most" if value.practice or value in limit.practice else ""
    return f"{words}{since}: {value.source}{advice}"


def print_rules(folder: str | None) -> int:
    """Prints every rule with its title, and the code editions whose values are carried."""
    rules = all_rules(folder)
    widest = max(len(rule.id) for rule in rules)
    lines = [f"{rule.id:<{widest}}  {rule.words.title}" for rule in rules]
    lines += ["", "Code editions carried (another edition uses the nearest older one, with a caution):"]
    for family in FAMILIES:
        lines.append(f"  {family}  {', '.join(_editions(rules, family)) or 'no number of its own in these rules'}")
    sys.stdout.write("\n".join(lines) + "\n")
    return 0


def _editions(rules: tuple[LoadedRule, ...], family: str) -> list[str]:
    found = set()
    for rule in rules:
        for limit in rule.rule.limits:
            for value in getattr(limit, family):
                found.add(value.source.edition or "edition not stated")
    return sorted(found)
