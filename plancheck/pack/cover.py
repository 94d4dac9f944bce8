"""The cover: what job, under which code and amendments, what is in the pack, what the check said."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from plancheck import __version__
from plancheck.limits import Amended
from plancheck.measures import US
from plancheck.outcomes import Measured
from plancheck.pack.blocks import BLANK, Block, Grid, Items, Material, Pairs, Sheet, Text, joined, said
from plancheck.report.figures import figure
from plancheck.report.layout import verdict_words


def cover(material: Material, others: Sequence[Sheet]) -> Sheet:
    """The cover of a pack with the sheets that follow."""
    report, plan = material.report, material.facts.plan
    blocks: list[Block] = [
        Pairs(
            (
                ("Job", report.title),
                ("Address", BLANK),
                ("Permit number", said(plan.permit.number) if plan.permit is not None else BLANK),
                ("Owner", BLANK),
                ("Contractor, licence number", BLANK),
                ("Made by, date", joined(said(plan.job.by), said(plan.job.date))),
                ("Stage", report.stage),
                ("Code", report.code),
            )
        ),
        *_amendments(material),
        Text(verdict_words(report)),
        *(Text(remark) for remark in report.remarks),
        Items(tuple(f"{sheet.title}: {sheet.about}" for sheet in others)),
        Pairs(
            (
                ("Plan file", report.file),
                ("SHA-256 of the file", hashlib.sha256(report.raw).hexdigest()),
                ("Judged on", report.judged_on),
                ("plancheck", f"{__version__}, {len(material.rules)} rules"),
            ),
            "What these sheets were made from",
        ),
        Text(
            "These sheets describe a plan. They are no approval, no permit and no test certificate: the local authority "
            "decides, and what the plan does not show is not counted as right."
        ),
    ]
    return Sheet("cover", "Inspection pack", "job, code and contents", tuple(blocks))


def _amendments(material: Material) -> tuple[Block, ...]:
    rows = [
        (f"{rule}.{limit}", _value(material, rule, limit, one), one.source.named, one.because)
        for rule, limits in material.amended.items()
        for limit, one in limits.items()
    ]
    if not rows:
        return (Text("Local amendments: none were given to this check. Ask the authority for its own."),)
    return (Grid("Local amendments in force", ("Limit", "Says", "Where", "Because"), tuple(rows)),)


def _value(material: Material, rule: str, limit: str, one: Amended) -> str:
    if one.off:
        return "not judged"
    found = material.in_force(rule, limit)
    value = figure(Measured(one.value, found.limit.unit), material.facts.units or US).words if found and one.value is not None else ""
    return joined(value, f"counts as {one.severity}" if one.severity else "")
