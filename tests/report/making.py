"""What the tests of report formats share: a call in this process and the files it wrote, plans and rules that go wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import xmlschema

from plancheck.cli import run

ROOT = Path(__file__).parents[2]
STANDARDS = Path(__file__).parent / "standards"
SAMPLES = sorted((ROOT / "sample_plans").glob("*.plan.yaml"))
MISTAKES = str(ROOT / "sample_plans" / "boathouse-mistakes.plan.yaml")
SMALL = ROOT / "tests" / "cases" / "base" / "small.plan.yaml"
TODAY = ("--today", "2026-05-20")
FORMATS = ("screen", "json", "sarif", "junit", "csv", "html")
SARIF = jsonschema.Draft4Validator(json.loads((STANDARDS / "sarif-2.1.0-rtm.5.json").read_text("utf-8")))
JUNIT = xmlschema.XMLSchema(str(STANDARDS / "junit-10.xsd"))
EVIL = r'"\x01 \x1b[31m \0 & <b> ]]> \u202e \uFFFE {0} {use: x} [a](http://b.example)"'  # YAML and Python read it alike
OWN = '''"""Odd [things] {here}

Looks at: the lavatory.
Why: a test with {braces}.
To mend: nothing.
Cannot see: anything.
Ask: nobody.
"""
from plancheck.rulekit import NotShown, Rule, Subject, broken, holds, on_site
RULE = Rule(highest="hazard", stage="layout")
def lost():
    raise NotShown(("water", "static"), "a figure {x: 1}")
def subjects(facts):
    return [Subject(("parts", "lav"), "the lavatory", "bath")]
def check(subject, facts, limits):
    return %s
'''


def report(folder: Path, format_: str, *arguments: str) -> tuple[int, str]:
    """The exit number of `check` and the report it wrote in the format."""
    file = folder / f"made.{format_}"
    number = run(("check", *TODAY, *arguments, "--report", f"{format_}={file}"))
    return number, file.read_text("utf-8")


def sarif(folder: Path, *arguments: str) -> dict[str, Any]:
    """The one run of the SARIF report, which follows the schema."""
    data = json.loads(report(folder, "sarif", *arguments)[1])
    assert [error.message for error in SARIF.iter_errors(data)] == []
    assert len(data["runs"]) == 1
    found: dict[str, Any] = data["runs"][0]
    return found


def junit(folder: Path, *arguments: str) -> ElementTree.Element:
    """The JUnit report, which follows the schema and counts what it holds."""
    text = report(folder, "junit", *arguments)[1]
    JUNIT.validate(text)
    top = ElementTree.fromstring(text)
    for suite in top:
        for count, tag in (("tests", "."), ("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
            cases = suite.findall("testcase")
            held = cases if tag == "." else [case for case in cases if case.find(tag) is not None]
            assert int(suite.attrib[count]) == len(held)
    return top


def cases_of(suite: ElementTree.Element) -> dict[str, ElementTree.Element]:
    """The cases of a suite by rule."""
    return {case.attrib["name"]: case for case in suite.findall("testcase")}


def rules(folder: Path, answer: str) -> tuple[str, ...]:
    """The arguments that run one rule of our own with this answer, and nothing else."""
    (folder / "rules").mkdir(exist_ok=True)
    (folder / "rules" / "own_rule.py").write_text(OWN % answer, encoding="utf-8")
    return ("--rules", str(folder / "rules"), "--only", "own_rule")


def command(*arguments: str, cwd: Path = ROOT, before: str = "") -> subprocess.CompletedProcess[str]:
    """plancheck in a process of its own. before: Python run there first."""
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); {before}\nfrom plancheck.__main__ import main; sys.exit(main())"
    call = [sys.executable, "-c", code, *arguments]
    return subprocess.run(call, cwd=cwd, capture_output=True, text=True, encoding="utf-8", timeout=120, check=False)
