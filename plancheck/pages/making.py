"""Filling a template: everything is escaped, control and direction marks of a plan's texts are made visible.

A page is one file that needs nothing from elsewhere. Its content policy allows its own style sheet and script by their
hashes and nothing else, so that no text of a plan can become either.
"""

from __future__ import annotations

import base64
import functools
import hashlib
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from plancheck import __version__
from plancheck.report.page import clean

_FOLDER = Path(__file__).parent / "templates"


def page(template: str, **data: Any) -> str:
    """The page of a template with its data; the same data gives the same text."""
    style, script = _file("style.css"), _file("filter.js")
    policy = (
        f"default-src 'none'; style-src '{_hash(style)}'; script-src '{_hash(script)}'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    own = {"style": Markup(style), "script": Markup(script), "policy": Markup(policy), "version": __version__}
    return _environment().get_template(template).render(**own, **data)


@functools.cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["capital"] = capital
    return environment


def _shown(value: Any) -> Any:
    """A value as it is printed: texts of a plan cleaned, markup of our own as it stands."""
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def capital(text: str) -> str:
    """The text with a capital in front."""
    return text[:1].upper() + text[1:]


@functools.cache
def _file(name: str) -> str:
    return (_FOLDER / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"
