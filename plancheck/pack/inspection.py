"""The pre-inspection sheet: in the inspector's order what each rule found, what is attested, what is to be seen on site."""

from __future__ import annotations

from collections.abc import Iterable

from plancheck.model import Claim
from plancheck.pack.blocks import BLANK, Block, Boxes, Grid, Heading, Material, Pairs, Sheet, Text, Tick, joined, said
from plancheck.pack.walk import OTHER, STEPS, step_of
from plancheck.report.layout import to_see


def inspection(material: Material) -> Sheet:
    """The sheet one walks the job with before the inspector does."""
    blocks: list[Block] = [*_attested(material)]
    for title in (*(step.title for step in STEPS), OTHER):
        made = tuple(_step(material, title))
        if made:
            blocks += [Heading(title), *made]
    blocks += [
        Heading("Sign"),
        Pairs((("Walked by", BLANK), ("Date", BLANK), ("Result: as found, corrections, another visit", BLANK))),
    ]
    about = "rule results in the inspector's order, attested items, boxes for what only a person can see"
    return Sheet("inspection", "Before the inspection", about, tuple(blocks))


def _step(material: Material, title: str) -> Iterable[Block]:
    rows = [_row(material, rule) for rule, counts in material.report.tally.items() if step_of(rule) == title and any(counts.values())]
    if rows:
        yield Grid("", ("Rule", "Looked at", "Came out as", "Findings"), tuple(rows), frozenset((1,)))
    always = next((step.always for step in STEPS if step.title == title), ())
    remarks = [one for one in material.report.on_site if step_of(one.rule) == title]
    ticks = [Tick(text) for text in always]
    ticks += [Tick(says, joined(station, _names(subjects))) for station, subjects, says in to_see(remarks)]
    if ticks:
        yield Boxes(tuple(ticks))


def _row(material: Material, rule: str) -> tuple[str, str, str, str]:
    counts = material.report.tally[rule]
    words = next((one.words.title for one in material.rules if one.id == rule), rule)
    numbers = [str(one.number) for one in material.report.findings if one.rule == rule]
    told = ", ".join(f"{count} {kind}" for kind, count in counts.items() if count)
    return words, str(sum(counts.values())), told, ", ".join(numbers)


def _names(subjects: Iterable[str]) -> str:
    names = list(subjects)
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


def _attested(material: Material) -> Iterable[Block]:
    """What the plan says that somebody saw: told as a claim, never as a check."""
    yield Heading("Attested")
    claims = tuple(material.facts.plan.claims.values())
    if not claims:
        yield Text("The plan carries no record of what somebody saw.")
        return
    yield Text("What the plan says that somebody saw. A record is a claim of its author; it was not checked.")
    yield Boxes(tuple(Tick(_claim(one), said_of(one.covers), _by(one)) for one in claims))


def _claim(one: Claim) -> str:
    count = f" ({said(one.count_)})" if one.count_ is not None else ""
    return f"{said(one.says) or one.id}{count}"


def said_of(covers: object) -> str:
    """What a record covers, in a row."""
    return ", ".join(covers) if isinstance(covers, tuple) else said(covers)


def _by(one: Claim) -> str:
    photo = f"photo {one.photo}" if one.photo else ""
    return joined(f"by {one.by}" if one.by else "", said(one.date), photo) or "unsigned"
