"""A rule's manual and limits as data, for formats that carry them beside the findings."""

from __future__ import annotations

from typing import Any

from plancheck.limits import FAMILIES, Limit
from plancheck.loader import LoadedRule
from plancheck.manual import why_text
from plancheck.measures import US
from plancheck.outcomes import Measured
from plancheck.report.figures import figure
from plancheck.report.waivers import RULE as WAIVER
from plancheck.report.waivers import WORDS
from plancheck.words import HEADINGS, Words, words_of

LEVELS = {"hazard": "error", "correction": "warning", "advice": "note"}


def descriptor(rule: LoadedRule) -> dict[str, Any]:
    """A rule with its words, limits and sources as SARIF has rules."""
    limits = [_limit(limit) for limit in rule.rule.limits]
    more = {"stage": rule.rule.stage, "highest": rule.rule.highest, "limits": limits}
    return _described(rule.id, rule.words, why_text(rule), rule.rule.highest, more)


def waiver_descriptor() -> dict[str, Any]:
    """The same of what judges the waivers themselves, which is no rule file."""
    words = words_of(WORDS)
    parts = (f"{heading}: {part}" for heading, part in zip(HEADINGS, words[1:], strict=True))
    text = "\n".join((f"{WAIVER}: {words.title}", "", *parts)) + "\n"
    more = {"stage": "layout", "highest": "correction", "limits": []}
    return _described(WAIVER, words, text, "correction", more)


def _described(id_: str, words: Words, text: str, highest: str, more: dict[str, Any]) -> dict[str, Any]:
    parts = (f"**{heading}:** {escaped(part)}" for heading, part in zip(HEADINGS, words[1:], strict=True))
    limits = "\n\n".join(text.split("\n\n")[2:]).strip()
    fenced = f"```\n{limits}\n```" if limits else ""
    return {
        "id": id_,
        "shortDescription": {"text": escaped(words.title)},
        "fullDescription": {"text": escaped(f"{words.looks_at} {words.why}")},
        "help": {"text": escaped(text), "markdown": "\n\n".join((*parts, escaped(fenced))).strip()},
        "defaultConfiguration": {"level": LEVELS[highest]},
        "properties": {"tags": ["water supply", more["stage"]], **more},
    }


def escaped(text: str) -> str:
    """The text as SARIF wants it in a message: braces, which would be placeholders, doubled."""
    return text.replace("{", "{{").replace("}", "}}")


def _limit(limit: Limit) -> dict[str, Any]:
    values = [
        {
            "family": family,
            "words": figure(Measured(value.value, limit.unit), US).words,
            "si": value.value,
            "since": value.since,
            "document": value.source.document,
            "edition": value.source.edition,
            "clause": value.source.clause,
            "read": value.source.read,
        }
        for family in (*FAMILIES, "practice")
        for value in getattr(limit, family)
    ]
    return {"id": limit.id, "title": limit.title, "sense": limit.sense, "unit": limit.unit, "values": values}
