"""The pages in real Chromium: nothing stands out at any width, links lead somewhere, nothing is fetched, axe finds nothing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from plancheck.check import check_file, check_source
from plancheck.errors import Problem
from plancheck.gradecalls import Call, run_grade
from plancheck.packcalls import Call as PackCall
from plancheck.packcalls import make_pack
from plancheck.pages.htmlreport import html_report
from plancheck.reading import read_bytes
from tests.casework import changed
from tests.grading.making import SMALL, rubric, small
from tests.pages.browsing import WIDTHS, Browser, dead_links, too_wide

SAMPLES = Path(__file__).parents[2] / "sample_plans"
HOSTILE = "<script>alert(1)</script>\u202e\u2066 \" onload='x' &amp; \x07 {{7*7}} </style>"
LONG = "Z" * 500


def report_of(*names: str) -> str:
    return html_report([check_file(str(SAMPLES / f"{name}.plan.yaml"), "2026-05-20") for name in names])


def hostile() -> dict[str, Any]:
    """The small plan with names that would like to be something else, and one of 500 letters."""
    return changed(SMALL, {
        "job/title": HOSTILE, "job/by": HOSTILE, "parts/cold-row/ports/A/label": HOSTILE, "parts/shower/name": LONG,
        "places/bath/name": HOSTILE[:180], "claims": {"c": {"says": HOSTILE, "by": HOSTILE, "date": "2026-05-01", "photo": HOSTILE}},
        "defaults/runs/blue/bends/radius": "2 in",
    })  # fmt: skip


def many() -> dict[str, Any]:
    """The small plan with 300 runs more, each with a finding."""
    plan = changed(SMALL, {})
    for number in range(300):
        plan["runs"][f"more-{number}"] = {"from": f"begin-{number}", "to": f"end-{number}", "tube": "blue", "bends": {"radius": f"{1 + number % 3} in"}, "path": ["up 3 ft", "east 2 ft"]}  # fmt: skip
        plan["parts"] |= {f"{end}-{number}": {"is": "cap", "place": "cellar"} for end in ("begin", "end")}
    return plan


def written(folder: Path, name: str, text: str) -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def checked(plan: dict[str, Any]) -> str:
    return html_report([check_source(read_bytes(json.dumps(plan).encode(), "a.plan.json"), "2026-05-05")])


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Every kind of page, by name."""
    folder = tmp_path_factory.mktemp("pages")
    unread = [Problem("torn.plan.yaml", 3, 1, "a tab where spaces should stand", "indent with spaces only")]
    made = {
        "clean": report_of("boathouse"),
        "mistakes": report_of("boathouse-mistakes"),
        "several": report_of("small-flat", "apprentice", "metric-house"),
        "unread": html_report([], unread, 2),
        "hostile": checked(hostile()),
    }
    found = {name: written(folder, f"{name}.html", text) for name, text in made.items()}
    make_pack(PackCall(str(SAMPLES / "boathouse-mistakes.plan.yaml"), str(folder / "pack"), today="2026-05-20"))
    make_pack(PackCall(str(written(folder, "hostile.plan.json", json.dumps(hostile()))), str(folder / "hostile-pack"), today="2026-05-05"))
    found |= {"pack": folder / "pack" / "pack.html", "owner": folder / "pack" / "sheets" / "owner.html", "hostile pack": folder / "hostile-pack" / "pack.html"}
    found |= graded(folder)
    return found


def graded(folder: Path) -> dict[str, Path]:
    """The pages of a class with everything in it."""
    scheme = rubric({"sides": {"rules": ["fixture_sides"]}, "bends": {"rules": ["bend_radius"], "read": "the maker's sheet on bends"}, "tidy": {"judge": "the bench"}}, critical={"bent": {"title": "Bent", "rules": ["bend_radius"], "severity": "advice", "cap": 49}}, **{"pass": 50})  # fmt: skip
    pile = folder / "pile"
    pile.mkdir()
    plans: dict[str, Any] = {f"c{number}": small(defaults__runs__blue__bends__radius=f"{number} in") for number in range(2, 8)}
    for name, plan in {**plans, "hostile": hostile()}.items():
        written(pile, f"{name}.plan.json", json.dumps(plan))
    written(pile, "torn.plan.yaml", "parts: [")
    written(folder, "a.rubric.yaml", json.dumps(scheme))
    run_grade(Call(str(folder / "a.rubric.yaml"), (str(pile),), today="2026-05-05", pages=str(folder / "class")))
    sheets = sorted((folder / "class" / "feedback").iterdir(), key=lambda file: file.stat().st_size)
    return {"class": folder / "class" / "class.html", "feedback": sheets[-1], "feedback on nothing": sheets[0]}


NAMES = ("clean", "mistakes", "several", "unread", "hostile", "pack", "owner", "hostile pack", "class", "feedback", "feedback on nothing")


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_stands_out_and_every_link_leads_somewhere(browser: Browser, pages: dict[str, Path], name: str, width: int) -> None:
    with browser.page(pages[name], width) as page:
        assert not too_wide(page)
        assert not dead_links(page)


@pytest.mark.parametrize("name", NAMES)
def test_in_print_nothing_stands_out_and_no_filter_is_printed(browser: Browser, pages: dict[str, Path], name: str) -> None:
    with browser.page(pages[name], 703, media="print") as page:  # the width of US letter less its margins
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth + 1")
        assert page.evaluate("[...document.querySelectorAll('.filter')].every(one => getComputedStyle(one).display === 'none')")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("name", NAMES)
def test_axe_finds_nothing(browser: Browser, pages: dict[str, Path], name: str, dark: bool) -> None:
    assert not browser.faults(pages[name], dark)


@pytest.mark.parametrize("name", ["hostile", "hostile pack", "feedback"])
def test_text_of_a_plan_stays_text(browser: Browser, pages: dict[str, Path], name: str) -> None:
    with browser.page(pages[name]) as page:
        assert page.evaluate("document.querySelectorAll('script').length") == (0 if name == "hostile pack" else 1)
        assert page.evaluate("[...document.querySelectorAll('*')].every(one => ![...one.attributes].some(a => a.name.startsWith('on')))")
        text = page.evaluate("document.body.innerText")
        assert "\u202e" not in text
        assert "\u2066" not in text
        if name != "feedback":
            assert "<script>alert(1)</script>" in text
            assert "{{7*7}}" in text


def test_without_script_the_whole_list_stands_there(browser: Browser, pages: dict[str, Path]) -> None:
    with browser.page(pages["mistakes"], script=False) as page:
        assert page.locator("article.finding").count() > 5
        assert page.locator(".filter").count() == 0


def test_the_filter_by_severity_and_place(browser: Browser, pages: dict[str, Path]) -> None:
    with browser.page(pages["mistakes"]) as page:
        each = "[data-severity], [data-tied]"
        every = page.locator(each).count()
        alone = page.locator("article.advice:not(:has([data-tied]))").count()
        entries = page.locator("article.finding:visible").count()
        page.get_by_label("correction").uncheck()
        page.get_by_label("hazard").uncheck()
        shown = page.locator("article.advice:visible, [data-tied=advice]:visible").count()
        assert f"{shown} of {every} shown" in page.locator("[role=status]").inner_text()
        assert page.locator("[data-tied=advice]:visible").count() == page.locator("[data-tied=advice]").count()
        assert page.locator("[data-tied=correction]:visible").count() == 0
        assert alone < page.locator("article.finding:visible").count() < entries
        page.get_by_label("correction").check()
        page.get_by_label("hazard").check()
        page.get_by_label("Place").select_option("Heater")
        heater = page.locator("article.finding:visible, [data-tied]:visible").count()
        assert 0 < heater < every
        assert f"{heater} of {every} shown" in page.locator("[role=status]").inner_text()
        hidden = page.evaluate("document.querySelector('article.finding[hidden]').id")
        page.evaluate(f"location.hash = '#{hidden}'")  # a link to what is filtered away brings it back
        page.wait_for_function(f"!document.getElementById('{hidden}').hidden")


def test_everything_is_reached_by_keyboard(browser: Browser, pages: dict[str, Path]) -> None:
    with browser.page(pages["mistakes"]) as page:
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.className") == "skip"
        page.keyboard.press("Enter")
        page.wait_for_function("document.activeElement.id === 'main'")


def test_three_hundred_findings(browser: Browser, tmp_path: Path) -> None:
    file = written(tmp_path, "many.html", checked(many()))
    with browser.page(file, 360) as page:
        assert page.locator("article.finding, ul.tied li").count() >= 300
        assert not too_wide(page)
        assert not dead_links(page)


def test_every_mark_and_its_finding_lead_to_each_other(browser: Browser, pages: dict[str, Path]) -> None:
    with browser.page(pages["mistakes"]) as page:
        marks = page.evaluate("[...document.querySelectorAll('[id*=mark-]')].map((one) => one.id)")
        assert len(marks) > 10
        for mark in marks:
            assert page.locator(f"a[href='#{mark}']").count() >= 1, mark
            finding = mark.replace("mark-", "finding-")
            assert page.locator(f"a[href='#{finding}']").count() >= 1, mark
