"""One browser for all tests of pages."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.pages.browsing import Browser, chromium

_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, started once."""
    command = chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=command, headless=True, args=_FLAGS)
        yield Browser(started)
        started.close()
