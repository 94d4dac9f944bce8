"""The screen report as plain text: for pipes, files and terminals without colour."""

from __future__ import annotations

from plancheck.report.data import PlanReport
from plancheck.report.layout import lay_out


def plain_text(report: PlanReport, width: int) -> str:
    """One plan's report as text, wrapped to the width."""
    lines = ("".join(span.text for span in line).rstrip() for line in lay_out(report, width))
    return "\n".join(lines) + "\n"
