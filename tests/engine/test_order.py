"""The punch list: consequences and repetitions right behind their root, each finding once, numbers in the order printed."""

from __future__ import annotations

import re
from typing import NamedTuple

from plancheck.engine import run_rules
from plancheck.facts import Facts
from plancheck.loader import built_in_rules
from plancheck.report.assemble import Options, assemble
from plancheck.report.data import Finding, PlanReport
from plancheck.report.order import in_order
from plancheck.report.page import Page
from plancheck.report.plain import plain_text
from plancheck.report.stations import Stations
from tests.engine.test_engine import facts


class Said(NamedTuple):
    """A finding in short: its subject, its path, the path of its cause, its rule and its line."""

    subject: str
    path: str
    cause: str | None = None
    rule: str = "a_rule"
    line: int = 0
    mend: str = "mend it"
    severity: str = "advice"


def finding(number: int, said: Said) -> Finding:
    line = said.line or 100 + number
    return Finding(
        0, said.rule, said.severity, "Heater", "", said.path, line, 1, "", said.subject, said.cause,
        f"{said.subject} is bad", "found", "needed", "why", None, None, said.mend, "ask", "",
    )  # fmt: skip


def ordered(*said: Said) -> list[tuple[int, str, int, str]]:
    """Number, subject, number of the one it is under and tie of each finding, as they come."""
    found = in_order([finding(number, one) for number, one in enumerate(said)], Stations(facts()))
    return [(one.number, one.subject, one.under, one.tie) for one in found]


def test_consequences_have_the_numbers_right_behind_their_root() -> None:
    assert ordered(Said("a", "/a"), Said("b", "/b", "/d"), Said("c", "/c"), Said("d", "/d"), Said("e", "/e", "/b")) == [
        (1, "a", 0, ""),
        (2, "c", 0, ""),
        (3, "d", 0, ""),
        (4, "b", 3, "follows"),
        (5, "e", 3, "follows"),
    ]


def test_a_correction_is_never_folded_beneath_advice() -> None:
    """The pipe that all water passes is a piece of advice; the outlet that is short for it stays a correction of its own."""
    short = Said("outlet", "/parts/tub", "/runs/service", severity="correction")
    peak = Said("at peak", "/parts/tub/peak", "/parts/tub", severity="correction")
    slow = Said("slow", "/parts/sink", "/runs/service")
    service = Said("service", "/runs/service")
    assert ordered(service, short, peak, slow) == [
        (1, "outlet", 0, ""),
        (2, "at peak", 1, "follows"),
        (3, "service", 0, ""),
        (4, "slow", 3, "follows"),
    ]
    grave = service._replace(severity="correction")
    assert ordered(grave, short, peak, slow) == [
        (1, "service", 0, ""),
        (2, "outlet", 1, "follows"),
        (3, "at peak", 1, "follows"),
        (4, "slow", 1, "follows"),
    ]


def test_corrections_with_one_milder_cause_are_told_together() -> None:
    tub, sink, tray = (
        Said(name, f"/parts/{name}", "/runs/service", severity="correction") for name in ("tub", "sink", "tray")
    )
    other = Said("speed", "/runs/hot", "/runs/service", "other", severity="correction")
    assert ordered(Said("service", "/runs/service"), tub, sink, other, tray) == [
        (1, "tub", 0, ""),
        (2, "sink", 1, "same"),
        (3, "tray", 1, "same"),
        (4, "speed", 0, ""),
        (5, "service", 0, ""),
    ]


def test_two_findings_at_one_path_are_each_told_and_only_the_one_with_a_cause_follows() -> None:
    assert ordered(Said("a", "/x"), Said("b", "/y"), Said("c", "/x", "/y", "other")) == [
        (1, "a", 0, ""),
        (2, "b", 0, ""),
        (3, "c", 2, "follows"),
    ]
    assert [one[2] for one in ordered(Said("a", "/x"), Said("b", "/x"))] == [0, 0]


def test_of_two_findings_at_the_path_of_a_cause_the_one_of_the_same_rule_is_meant() -> None:
    told = ordered(Said("a", "/x", None, "other"), Said("b", "/x"), Said("c", "/y", "/x"))
    assert told[2] == (3, "c", 2, "follows")


def test_a_cause_that_is_no_finding_or_leads_back_leaves_a_root() -> None:
    assert [one[2] for one in ordered(Said("a", "/a", "/nowhere"), Said("b", "/b", "/b"))] == [0, 0]
    circle = ordered(Said("a", "/a", "/b"), Said("b", "/b", "/c"), Said("c", "/c", "/a"), Said("d", "/d", "/b"))
    assert [one[1] for one in circle if one[2] == 0] == ["a"]
    assert sorted(one[1] for one in circle) == ["a", "b", "c", "d"]


def test_what_one_line_of_the_plan_makes_is_told_once() -> None:
    told = ordered(
        Said("a", "/a", line=9),
        Said("b", "/b", line=9),
        Said("c", "/c", "/b", line=9),  # the line makes it, not the other finding
        Said("d", "/d", "/b"),
        Said("e", "/e", None, "other", 9),
    )
    assert told == [
        (1, "a", 0, ""),
        (2, "d", 1, "follows"),
        (3, "b", 1, "same"),
        (4, "c", 1, "same"),
        (5, "e", 0, ""),
    ]


def screen(*said: Said) -> str:
    whole = assemble(facts(), (), (), Options())
    found = in_order([finding(number, one) for number, one in enumerate(said)], Stations(facts()))
    return plain_text(whole._replace(findings=found), 120)


def test_on_the_screen_repetitions_are_a_list_with_their_own_mend_where_it_differs() -> None:
    text = screen(
        Said("a", "/a", line=9),
        Said("b", "/b", line=9),
        Said("c", "/c", line=9, mend="mend it twice"),
        Said("d", "/d", line=9),
        Said("e", "/e", "/a"),
    )
    lines = [line.strip() for line in text.splitlines()]
    assert "the same at: 3. b, 5. d" in lines
    assert "the same at: 4. c. There: mend it twice" in lines
    assert "2. follows: e is bad (a_rule)" in lines
    assert text.count("is bad") == 2  # a in full, and what follows from it
    assert lines.index("2. follows: e is bad (a_rule)") < lines.index("the same at: 3. b, 5. d")


def test_numbers_on_the_screen_never_jump() -> None:
    """One wrong radius in the defaults and a wrong spacing: every bend and run of the small house."""
    report = wrong_defaults()
    assert [one.number for one in report.findings] == list(range(1, len(report.findings) + 1))
    assert len({(one.rule, one.line) for one in report.findings if not one.under}) == sum(
        1 for one in report.findings if not one.under
    )
    text = plain_text(report, 120)
    listed = text[: text.index("Tally")]
    numbers = [int(found) for found in re.findall(r"(?:^ *|, |at: )(\d+)\. (?=[a-zA-Z])", listed, re.MULTILINE)]
    assert numbers == sorted(numbers)


def wrong_defaults() -> PlanReport:
    wrong: Facts = facts(("bends: {radius: 5 in, support: strap both sides}", "bends: {radius: 2 in}"))
    rules = tuple(rule for rule in built_in_rules() if rule.id in ("bend_radius", "support_spacing"))
    report = assemble(wrong, rules, run_rules(rules, wrong), Options())
    assert len(report.findings) > 5
    return report


def test_a_head_that_leaves_no_room_stands_alone() -> None:
    page = Page(10)
    page.entry("h" * 39 + "  ", "some words behind it")
    lines = ["".join(span.text for span in line) for line in page.lines]
    assert lines == ["h" * 39, "  some words behind it"]
