"""Rule files: every built-in one is whole, and a folder given on the command line loads through the same door."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from plancheck.errors import Unreadable
from plancheck.limits import FAMILIES, Limit, Source
from plancheck.loader import LoadedRule, all_rules, built_in_rules, rules_from
from tests.casework import CASES, load

RULES = built_in_rules()
IDS = [rule.id for rule in RULES]
GOOD = '''"""A title

Looks at: nothing.
Why: a test.
To mend: nothing.
Cannot see: anything.
Ask: nobody.
"""
from plancheck.rulekit import Rule, Subject, holds
RULE = Rule(highest="advice", stage="layout")
def subjects(facts):
    return [Subject(("job",), "the job")]
def check(subject, facts, limits):
    return holds("fine")
'''


@pytest.mark.parametrize("rule", RULES, ids=IDS)
def test_a_rule_is_named_for_its_file_and_has_words(rule: LoadedRule) -> None:
    assert Path(rule.file).stem == rule.id
    words = rule.words
    assert not words.title.endswith(".")
    for part in words:
        assert len(part) > 10


ONLY_LOCAL = {("pressure_test", "water_least")}  # no code has a value: an authority may give one


@pytest.mark.parametrize("rule", RULES, ids=IDS)
def test_each_limit_has_a_source(rule: LoadedRule) -> None:
    names = [limit.id for limit in rule.rule.limits]
    assert len(names) == len(set(names))
    for limit in rule.rule.limits:
        assert isinstance(limit, Limit)
        assert limit.sense in ("at least", "at most", "")
        values = [value for family in (*FAMILIES, "practice") for value in getattr(limit, family)]
        assert bool(values) != ((rule.id, limit.id) in ONLY_LOCAL)
        for value in values:
            assert isinstance(value.source, Source)
            assert value.source.read in ("read", "from memory", "common practice")
            assert value.source.read == "common practice" or value.source.document


FOR_ANOTHER_TRADE = {"bonding_path"}  # what a plan does not show of the wiring is for an electrician on site, always


@pytest.mark.parametrize("rule", RULES, ids=IDS)
def test_a_case_of_each_kind(rule: LoadedRule) -> None:
    files = sorted((CASES / rule.id).glob("*.yaml"))
    outcomes = {one["outcome"] for file in files for one in load(file)["expect"]}
    wanted = {"holds", "broken"} if rule.id in FOR_ANOTHER_TRADE else {"holds", "broken", "not shown"}
    assert wanted <= outcomes


@pytest.mark.parametrize("rule", RULES, ids=IDS)
def test_a_rule_imports_only_the_rulekit(rule: LoadedRule) -> None:
    lines = Path(rule.file).read_text(encoding="utf-8").splitlines()
    imported = {line.split()[1] for line in lines if line.startswith(("from ", "import "))}
    allowed = {
        "__future__",
        "collections.abc",
        "functools",
        "heapq",
        "typing",
        "math",
        "itertools",
        "plancheck.rulekit",
        "plancheck.facts",
        "plancheck.record",
    }
    assert imported <= allowed


def folder(tmp_path: Path, **files: str) -> str:
    for name, text in files.items():
        (tmp_path / f"{name}.py").write_text(text, encoding="utf-8")
    return str(tmp_path)


def test_an_outside_folder_joins_the_built_in_rules(tmp_path: Path) -> None:
    found = all_rules(folder(tmp_path, own_rule=GOOD, _helper="raise RuntimeError('never imported')"))
    assert [rule.id for rule in found] == sorted([*IDS, "own_rule"])


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("def (:\n", 1, "not Python"),
        ("x = 1\n\n1 / 0\n", 0, "ZeroDivisionError"),
        ("import sys\nsys.exit(0)\n", 0, "SystemExit"),
        (GOOD.replace("RULE = ", "OTHER = "), 0, "no RULE"),
        (GOOD.replace('"advice"', '"terrible"'), 0, "terrible"),
        (GOOD.replace("def check", "def chek"), 0, "no function check"),
        (GOOD.replace("def subjects", "def subject"), 0, "no function subjects"),
        (GOOD.replace("RULE = ", "RULEKIT = 2\nRULE = "), 0, "RULEKIT 2"),
        (GOOD[GOOD.index("from plan") :], 0, "no words"),
        (GOOD.replace("Why: a test.", ""), 0, "'Why:'"),
    ],
)
def test_a_broken_rule_file_is_told_clearly(tmp_path: Path, text: str, line: int, words: str) -> None:
    with pytest.raises(Unreadable) as caught:
        rules_from(folder(tmp_path, odd=text, fine=GOOD))
    problem = caught.value.problems[0]
    assert Path(problem.file).name == "odd.py"
    assert words in problem.says
    assert problem.line == line
    assert problem.mend


def test_no_folder_and_an_empty_one_and_a_built_in_id(tmp_path: Path) -> None:
    for name in (str(tmp_path / "none"), str(tmp_path)):
        with pytest.raises(Unreadable):
            rules_from(name)
    with pytest.raises(Unreadable) as caught:
        all_rules(folder(tmp_path, test_port=GOOD))
    assert "id of a built-in rule" in caught.value.problems[0].says


def test_rules_that_nobody_asked_for_are_not_imported() -> None:
    asks = "import sys; from plancheck.loader import built_in_rules"
    asks += "; print([rule.id for rule in built_in_rules(('test_port',))])"
    asks += "; print([name for name in sys.modules if name.startswith('plancheck.rules.')])"
    said = subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, check=True).stdout
    assert said.splitlines() == ["['test_port']", "['plancheck.rules.test_port']"]
