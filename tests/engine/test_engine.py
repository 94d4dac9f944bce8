"""The engine: each kind of answer, the tally that adds up, and nothing that turns into silence."""

from __future__ import annotations

from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.facts import Facts
from plancheck.loader import LoadedRule
from plancheck.outcomes import OUTCOMES, Outcome, Rule, Subject
from plancheck.reading import read_bytes
from plancheck.report.assemble import Options, assemble
from plancheck.rulekit import NotShown, broken, holds, later, on_site
from tests.casework import CASES

WORDS = "A title\n\nLooks at: a.\nWhy: b.\nTo mend: c.\nCannot see: d.\nAsk: e.\n"


def facts(change: tuple[str, str] = ("", "")) -> Facts:
    text = (CASES / "base" / "small.plan.yaml").read_text(encoding="utf-8").replace(*change)
    return facts_of(read_bytes(text.encode(), "small.plan.yaml"), "2026-05-05")


def rule(check: Any, count: int = 1, stage: str = "layout", highest: str = "hazard", id_: str = "a_rule") -> LoadedRule:
    def subjects(facts: Facts) -> list[Subject]:
        return [Subject(("parts", "lav"), f"subject {number}", "bath", number) for number in range(count)]

    return LoadedRule(id_, Rule(highest, stage), subjects, check, WORDS, "a_rule.py")


def answers(check: Any, **more: Any) -> list[Outcome]:
    return [one.outcome for one in run_rules((rule(check, **more),), facts())]


def test_each_kind_of_answer() -> None:
    def check(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        if subject.thing == 3:
            raise NotShown(("parts", "lav", "height"), "its height")
        return (holds("fine"), broken("bad", "correction"), on_site("look"), None, later("wait"))[
            subject.thing
        ] or holds()

    found = answers(check, count=5)
    assert [one.kind for one in found] == ["holds", "broken", "on site", "not shown", "later"]
    assert found[3].needs == (("parts", "lav", "height"),)


def test_a_rule_that_raises_is_crashed_and_fails_the_plan() -> None:
    def check(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        raise ZeroDivisionError("boom")

    chosen = (rule(check),)
    judged = run_rules(chosen, facts())
    assert judged[0].outcome.kind == "crashed"
    report = assemble(facts(), chosen, judged, Options())
    assert report.verdict == "failed"
    assert "ZeroDivisionError: boom" in report.crashed[0].says


def test_subjects_that_raise_are_crashed() -> None:
    bad = rule(lambda *_: holds())._replace(subjects=lambda facts: 1 / 0)
    judged = run_rules((bad,), facts())
    assert [one.outcome.kind for one in judged] == ["crashed"]


def leave(*_: Any) -> Any:
    raise SystemExit(0)


def stop(*_: Any) -> Any:
    raise KeyboardInterrupt


def test_a_rule_that_ends_the_program_is_crashed_but_a_key_pressed_ends_it() -> None:
    assert answers(leave)[0].says == "SystemExit: 0"
    judged = run_rules((rule(leave)._replace(subjects=leave),), facts())
    assert [one.outcome.kind for one in judged] == ["crashed"]
    for bad in (rule(stop), rule(stop)._replace(subjects=stop)):
        with pytest.raises(KeyboardInterrupt):
            run_rules((bad,), facts())


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (None, "no outcome"),
        (Outcome("perhaps"), "no outcome"),
        (Outcome("broken", "x", "terrible"), "severity"),
        (broken("x", "hazard"), "highest is advice"),
    ],
)
def test_answers_that_are_none(answer: Any, words: str) -> None:
    found = answers(lambda *_: answer, highest="advice")
    assert found[0].kind == "crashed"
    assert words in found[0].says


def test_before_its_stage_a_rule_answers_later() -> None:
    early = facts(("stage: rough-in", "stage: layout"))
    judged = run_rules((rule(lambda *_: broken("x", "advice"), stage="rough-in"),), early)
    assert [one.outcome.kind for one in judged] == ["later"]
    unsaid = facts(("stage: rough-in, ", ""))
    judged = run_rules((rule(lambda *_: broken("x", "advice"), stage="rough-in"),), unsaid)
    assert [one.outcome.kind for one in judged] == ["broken"]
    report = assemble(unsaid, (rule(lambda *_: holds()),), (), Options())
    assert "does not say its stage" in " ".join(report.remarks)


def test_the_tally_adds_up_and_counts_agree() -> None:
    def check(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        return holds() if subject.thing % 2 else broken("x", "advice")

    chosen = (rule(check, count=7), rule(check, count=0, id_="empty"))
    judged = run_rules(chosen, facts())
    report = assemble(facts(), chosen, judged, Options())
    assert {name: sum(counts.values()) for name, counts in report.tally.items()} == {"a_rule": 7, "empty": 0}
    assert all(set(counts) == set(OUTCOMES) for counts in report.tally.values())
    assert report.counts["advice"] == len(report.findings) == 4
    assert report.counts["holds"] == 3


def test_stop_level_and_must_show_decide_the_verdict() -> None:
    def missing(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        raise NotShown(("water", "static"), "the pressure")

    def verdict(check: Any, **options: Any) -> str:
        chosen = (rule(check),)
        return assemble(facts(), chosen, run_rules(chosen, facts()), Options(**options)).verdict

    advice = lambda *_: broken("x", "advice")
    correction = lambda *_: broken("x", "correction")
    assert verdict(advice) == "nothing found"
    assert verdict(advice, stop_at="advice") == "findings"
    assert verdict(correction) == "findings"
    assert verdict(correction, stop_at="hazard") == "nothing found"
    assert verdict(missing) == "nothing found"
    assert verdict(missing, must_show=frozenset(["a_rule"])) == "findings"
    assert verdict(missing, must_show=frozenset(["all"])) == "findings"
    assert verdict(missing, must_show=frozenset(["other"])) == "nothing found"


def test_a_practice_limit_gives_advice_at_most_and_estimates_are_named() -> None:
    from plancheck.limits import PRACTICE, InForce, Limit

    limit = InForce(Limit("x", "a", "length", "at least"), 1.0, PRACTICE, True)
    assert broken("x", "correction", limit=limit).severity == "advice"
    assert broken("x", "hazard", limit=limit).severity == "hazard"
    assert holds("x", estimate="about 3 ft").kind == "not shown"
    assert "about 3 ft" in broken("x", "advice", estimate="about 3 ft").caution


def test_findings_walk_the_house_hazards_first() -> None:
    paths = [
        ("runs", "lav-hot"),
        ("parts", "heater"),
        ("parts", "cold-row"),
        ("parts", "meter"),
        ("parts", "lav"),
        ("water",),
    ]

    def subjects(facts: Facts) -> list[Subject]:
        return [Subject(path, "-".join(path), None, number) for number, path in enumerate(paths)]

    def check(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        return broken("x", "hazard" if subject.path == ("parts", "lav") else "advice")

    chosen = (rule(check)._replace(subjects=subjects),)
    report = assemble(facts(), chosen, run_rules(chosen, facts()), Options())
    assert [(one.station, one.severity) for one in report.findings] == [
        ("Service entry", "advice"),
        ("Service entry", "advice"),
        ("Heater", "advice"),
        ("Manifolds", "advice"),
        ("Bathroom", "hazard"),
        ("Bathroom", "advice"),
    ]
    assert [one.number for one in report.findings] == [1, 2, 3, 4, 5, 6]


def test_waivers() -> None:
    text = (
        "\nwaivers:\n"
        + "".join(
            f"  - {{rule: {name}, at: {at}, because: agreed, by: inspector, until: {until}}}\n"
            for name, at, until in (
                ("a_rule", "/parts/lav", "2026-12-31"),
                ("a_rule", "/parts/wc", "2026-12-31"),
                ("a_rule", "/parts/lav", "2026-01-01"),
                ("no_rule", "/parts/lav", "2026-12-31"),
            )
        )
        + "  - {rule: a_rule, at: /parts/lav, because: agreed}\n"
    )
    source = (CASES / "base" / "small.plan.yaml").read_text(encoding="utf-8") + text
    here = facts_of(read_bytes(source.encode(), "x"), "2026-05-05")
    chosen = (rule(lambda *_: broken("x", "correction")),)
    report = assemble(here, chosen, run_rules(chosen, here), Options())
    assert {(one.rule, one.severity) for one in report.findings} == {("waiver", "advice")}
    assert [one.by for one in report.waived] == ["inspector"]
    said = " ".join(one.says for one in report.findings)
    for words in ("finds nothing at /parts/wc", "ended on 2026-01-01", "no rule 'no_rule'", "does not say 'by'"):
        assert words in said
    hazard = (rule(lambda *_: broken("x", "hazard")),)
    report = assemble(here, hazard, run_rules(hazard, here), Options())
    assert report.waived == ()
    assert [one.severity for one in report.findings if one.rule == "a_rule"] == ["hazard"]
    assert "names no authority: the hazard stays" in " ".join(one.says for one in report.findings)


def test_every_finding_is_printed_however_long_its_chain_of_causes() -> None:
    from plancheck.report.plain import plain_text

    paths = [
        ("runs", "bath-cold"),
        ("runs", "bath-link"),
        ("runs", "bath-wc-c"),
        ("runs", "lav-hot"),
        ("runs", "hot-main"),
    ]
    causes = [None, paths[0], paths[1], paths[4], paths[3]]  # the last two name each other

    def subjects(facts: Facts) -> list[Subject]:
        return [Subject(path, path[1], None, number) for number, path in enumerate(paths)]

    def check(subject: Subject, facts: Facts, limits: Any) -> Outcome:
        return broken(f"fault {subject.thing}", "advice", cause=causes[subject.thing])

    chosen = (rule(check)._replace(subjects=subjects),)
    text = plain_text(assemble(facts(), chosen, run_rules(chosen, facts()), Options()), 96)
    assert [text.count(f"fault {number}") for number in range(5)] == [1, 1, 1, 1, 1]
