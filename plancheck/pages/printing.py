"""Pages to PDF by whichever Chromium is on the machine; nothing is fetched, nothing of the user's profile is touched."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile

from plancheck.errors import Problem, Unreadable

NAMES = ("chromium", "chromium-browser", "chrome", "google-chrome", "google-chrome-stable", "msedge", "microsoft-edge")
VARIABLE = "PLANCHECK_BROWSER"
_SECONDS = 60


def browser() -> str:
    """The command of a browser that prints without a window. Raises Unreadable where there is none."""
    said = os.environ.get(VARIABLE)
    for name in (said,) if said else NAMES:
        found = shutil.which(name)
        if found is not None:
            return found
    what = f"{VARIABLE} names '{said}', which is no command here" if said else "no Chromium is on this machine's PATH"
    mend = f"install chromium, or name one with {VARIABLE}; or print pack.html from any browser"
    raise Unreadable((Problem("--pdf", 0, 0, what, f"{mend}; nothing was written", wanted="written"),))


def print_pdf(page: str, pdf: str) -> None:
    """Prints the page (a file) as PDF. Raises Unreadable where the browser does not manage it."""
    with tempfile.TemporaryDirectory(prefix="plancheck-") as profile:
        command = [
            browser(),
            "--headless=new",
            "--disable-gpu",
            "--disable-extensions",
            "--disable-background-networking",
            "--no-first-run",
            "--no-pdf-header-footer",
            f"--user-data-dir={profile}",
            f"--print-to-pdf={os.path.abspath(pdf)}",
            _uri(page),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.insert(1, "--no-sandbox")  # a browser of the superuser does not start otherwise, as in containers
        try:
            done = subprocess.run(command, capture_output=True, timeout=_SECONDS, check=False)
        except (OSError, subprocess.TimeoutExpired) as wrong:
            raise _failed(str(wrong)) from None
    if done.returncode or not os.path.exists(pdf):
        last = done.stderr.decode(errors="replace").strip().splitlines()
        raise _failed(last[-1] if last else f"it ended with {done.returncode}")


def _uri(file: str) -> str:
    from pathlib import Path

    return Path(file).resolve().as_uri()


def _failed(why: str) -> Unreadable:
    mend = "print pack.html from a browser by hand; nothing was written"
    return Unreadable((Problem("--pdf", 0, 0, f"the browser did not print the pages: {why[:200]}", mend, wanted="written"),))
