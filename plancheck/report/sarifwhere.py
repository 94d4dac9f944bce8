"""Names of files as SARIF has them: percent-encoded references from the folder in which the program was started."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any
from urllib.parse import quote_from_bytes

ROOT = "%SRCROOT%"


def artifact_location(file: str) -> dict[str, Any]:
    """Where a file is: from the starting folder if it is below it, else as far up or as absolute as it was said."""
    inside = os.path.relpath(file) if _same_drive(file) else file
    if not inside.startswith(os.pardir) and not os.path.isabs(inside):
        return {"uri": _quoted(inside), "uriBaseId": ROOT}
    return {"uri": Path(file).as_uri() if os.path.isabs(file) else _quoted(file)}


def _same_drive(file: str) -> bool:
    return not os.path.splitdrive(file)[0] or os.path.splitdrive(file)[0] == os.path.splitdrive(os.getcwd())[0]


def _quoted(file: str) -> str:
    """A relative reference. A colon is quoted too: in a first step it would end a scheme."""
    return quote_from_bytes(os.fsencode(file.replace(os.sep, "/")), safe="/-._~")
