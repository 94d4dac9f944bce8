"""The answers on flow as JSON: our own format, versioned, described by schemas/flow.schema.json."""

import hashlib
import json
from typing import Any

from plancheck.facts import Facts
from plancheck.flow.pages.table import Page, Table
from plancheck.report.flowcells import number_of, unit_of

FORMAT = 1


def flow_json(pages: list[tuple[Page, Facts]]) -> str:
    """All plans of one call as JSON text; the same input gives the same bytes."""
    whole = {"plancheck": FORMAT, "flow": [_page(page, facts) for page, facts in pages]}
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def _page(page: Page, facts: Facts) -> dict[str, Any]:
    return {
        "file": page.file,
        "sha256": hashlib.sha256(page.raw).hexdigest(),
        "title": page.title,
        "code": page.code,
        "tables": [_table(table, facts) for table in page.tables],
        "assumed": list(page.assumed),
        "not_shown": [{"path": path, "needs": what} for path, what in page.not_shown],
        "not_modelled": list(page.not_modelled),
        "cautions": list(page.cautions),
    }


def _table(table: Table, facts: Facts) -> dict[str, Any]:
    return {
        "id": table.id,
        "title": table.title,
        "columns": [{"name": column.name, "unit": unit_of(column, facts) or "text"} for column in table.columns],
        "rows": [
            [number_of(cell, column, facts) for cell, column in zip(row, table.columns, strict=True)]
            for row in table.rows
        ],
        "says": list(table.says),
        "notes": list(table.notes),
    }
