"""Real pages in real Chromium, driven by Playwright: Debian's browser, nothing fetched, no request leaves the page.

Where Chromium or axe-core is not on the machine the tests are skipped and say so; with CI set that is a failure.
AXE_CORE names axe.min.js of npm's axe-core.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from plancheck.pages.printing import NAMES

PLACES = (os.environ.get("AXE_CORE", ""), str(Path(__file__).parents[2] / ".ci" / "axe-core" / "axe.min.js"))
WIDTHS = (360, 768, 1400)


def wanted(reason: str) -> None:
    """Skips with a reason; in CI fails."""
    if os.environ.get("CI"):
        pytest.fail(f"{reason}; CI has to have it")
    pytest.skip(reason)


def chromium() -> str:
    """The browser's command."""
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    if found is None:
        wanted("no Chromium on this machine (Debian: apt install chromium)")
    return str(found)


def axe() -> str:
    """The text of axe-core."""
    found = next((place for place in PLACES if place and Path(place).is_file()), None)
    if found is None:
        wanted("no axe-core on this machine (npm pack axe-core; name its axe.min.js with AXE_CORE)")
    return Path(str(found)).read_text(encoding="utf-8")


class Browser:
    """A started browser; `page` opens a file at a width and watches what goes wrong in it."""

    def __init__(self, browser: Any) -> None:
        self._browser = browser

    @contextmanager
    def page(self, file: Path, width: int = 1400, media: str = "screen", dark: bool = False, script: bool = True) -> Iterator[Any]:
        """The page of a file. Fails at the end where a request left it or its console told an error."""
        scheme = "dark" if dark else "light"
        context = self._browser.new_context(
            viewport={"width": width, "height": 900}, color_scheme=scheme, java_script_enabled=script, bypass_csp=False
        )
        page = context.new_page()
        wrong: list[str] = []
        page.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("request", lambda asked: wrong.append(f"asks for {asked.url}") if not asked.url.startswith("file:") else None)
        page.emulate_media(media=media)
        page.goto(file.as_uri())
        try:
            yield page
            assert not wrong, wrong
        finally:
            context.close()

    def faults(self, file: Path, dark: bool = False) -> list[str]:
        """What axe-core finds wrong with a page. It is put into the page by the driver, past the page's own policy."""
        context = self._browser.new_context(viewport={"width": 1400, "height": 900}, color_scheme="dark" if dark else "light", bypass_csp=True)
        page = context.new_page()
        try:
            page.goto(file.as_uri())
            page.evaluate(axe())
            found = json.loads(page.evaluate("axe.run({resultTypes: ['violations']}).then(found => JSON.stringify(found.violations))"))
        finally:
            context.close()
        return [f"{one['id']}: {one['help']}: {[node['html'][:120] for node in one['nodes'][:3]]}" for one in found]


def too_wide(page: Any) -> list[str]:
    """What stands out of the page sideways: the page itself, or things outside a box that scrolls."""
    found = page.evaluate(
        """() => {
        const root = document.documentElement, out = [];
        if (root.scrollWidth > root.clientWidth + 1) out.push(`page ${root.scrollWidth} over ${root.clientWidth}`);
        for (const one of document.querySelectorAll("body *")) {
            if (one.closest("svg, [tabindex='0'][role='group'], .skip")) continue;
            const box = one.getBoundingClientRect();
            if (box.width && box.right > root.clientWidth + 1) out.push(`${one.tagName}.${one.className} to ${box.right}`);
        }
        return out.slice(0, 10);
    }"""
    )
    return list(found)


def dead_links(page: Any) -> list[str]:
    """Links within the page that lead nowhere."""
    found = page.evaluate(
        """() => [...document.querySelectorAll("a[href^='#']")].map(one => one.getAttribute("href"))
        .filter(aim => !document.getElementById(decodeURIComponent(aim.slice(1))))"""
    )
    return list(found)
