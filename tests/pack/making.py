"""Sheets of sample plans for tests."""

from __future__ import annotations

from typing import Any

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.loader import built_in_rules
from plancheck.pack.allsheets import sheets_of
from plancheck.pack.blocks import Material, Sheet
from plancheck.packcalls import pictures_of
from plancheck.reading import read_bytes
from plancheck.report.assemble import Options, assemble
from tests.casework import changed

TODAY = "2026-05-20"


def material_of(data: dict[str, Any], changes: dict[str, Any] | None = None) -> Material:
    """What the pack of a plan (as data) with changes is made from."""
    import json

    source = read_bytes(json.dumps(changed(data, changes or {})).encode(), "made.plan.json")
    facts, rules = facts_of(source, TODAY), built_in_rules()
    report = assemble(facts, rules, run_rules(rules, facts), Options())
    return Material(facts, report, rules, {}, pictures_of(facts, report))


def sheets(material: Material) -> dict[str, Sheet]:
    """The sheets by their names."""
    return {sheet.id: sheet for sheet in sheets_of(material)}


def grids(sheet: Sheet) -> dict[str, Any]:
    """The tables of a sheet by their captions."""
    return {block.caption: block for block in sheet.blocks if block.kind == "grid"}


def pairs(sheet: Sheet) -> dict[str, str]:
    """All names of a sheet with their values."""
    return {name: value for block in sheet.blocks if block.kind == "pairs" for name, value in block.rows}


def texts(sheet: Sheet) -> str:
    """All words of a sheet in a row."""
    return " ".join(map(repr, sheet.blocks))
