"""SARIF: held against the standard's schema, and what the schema cannot see against the plans themselves."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
import yaml

from plancheck.report.regions import Regions
from tests.report.making import (
    EVIL,
    MISTAKES,
    ROOT,
    SAMPLES,
    SMALL,
    TODAY,
    command,
    junit,
    report,
    rules,
    sarif,
)

WAIVER = "{rule: own_rule, at: /parts/lav, because: agreed, by: a crew, until: 2027-01-01}"


def results(run: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [one for one in run["results"] if one["kind"] == kind]


def plan(folder: Path, name: str = "den.plan.yaml", *changes: tuple[str, str], more: str = "") -> str:
    text = SMALL.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / name).write_text(f"{text.rstrip()}\n{more}", encoding="utf-8", newline="")
    return str(folder / name)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name.split(".")[0])
def test_says_what_the_json_report_says(tmp_path: Path, sample: Path) -> None:
    run = sarif(tmp_path, str(sample))
    told = json.loads(report(tmp_path, "json", str(sample))[1])["plans"][0]
    failed = results(run, "fail")
    levels = {"hazard": "error", "correction": "warning", "advice": "note"}
    assert [(one["ruleId"], one["level"]) for one in failed] == [
        (one["rule"], levels[one["severity"]]) for one in told["findings"]
    ]
    for one, other in zip(failed, told["findings"], strict=True):
        region = one["locations"][0]["physicalLocation"]["region"]
        assert (region["startLine"], region["startColumn"]) == (other["line"], other["column"])
        for word in (other["says"], other["found"], other["needed"], other["mend"], other["caution"]):
            assert word.replace("{", "{{").replace("}", "}}") in one["message"]["text"]
    for kind, name in (("open", "not_shown"), ("review", "on_site"), ("notApplicable", "later")):
        assert len(results(run, kind)) == len(told[name])
    assert {one["level"] for one in run["results"] if one["kind"] != "fail"} <= {"none"}


def test_every_rule_has_its_words_and_sources(tmp_path: Path) -> None:
    run = sarif(tmp_path, MISTAKES)
    described = run["tool"]["driver"]["rules"]
    assert [one["id"] for one in described] == sorted(path.stem for path in (ROOT / "rules").glob("*.py"))
    for one in described:
        for key in ("shortDescription", "fullDescription", "help"):
            assert len(one[key]["text"]) > 10
        for heading in ("Looks at", "Why", "To mend", "Cannot see", "Ask"):
            assert f"**{heading}:**" in one["help"]["markdown"]
        for limit in one["properties"]["limits"]:
            assert all(value["document"] or value["read"] == "common practice" for value in limit["values"])
    for one in run["results"]:
        assert described[one["ruleIndex"]]["id"] == one["ruleId"]


@pytest.mark.parametrize("format_", ["json", "sarif"])
def test_the_hash_is_of_the_file_as_it_lies_there(tmp_path: Path, format_: str) -> None:
    """Also with a byte order mark, and as JSON with a character in two escapes."""
    marked, joined = tmp_path / "a.plan.yaml", tmp_path / "b.plan.json"
    marked.write_bytes(b"\xef\xbb\xbf" + SMALL.read_bytes())
    data = yaml.safe_load(
        SMALL.read_text("utf-8").replace("Test cottage", "\U0001f6b0").replace("2026-05-04", "'2026-05-04'")
    )
    joined.write_text(json.dumps(data), encoding="utf-8")
    text = report(tmp_path, format_, str(marked), str(joined), *rules(tmp_path, "broken('x', 'advice')"))[1]
    for file in (marked, joined):
        assert hashlib.sha256(file.read_bytes()).hexdigest() in text
    if format_ == "sarif":
        regions = [one["locations"][0]["physicalLocation"]["region"] for one in json.loads(text)["runs"][0]["results"]]
        assert [len(region) for region in regions] == [4, 4]


def test_the_file_is_named_and_hashed(tmp_path: Path) -> None:
    folder = tmp_path / "a #1 % of ü:x"
    folder.mkdir()
    file = plan(folder, "my plan?.plan.yaml")
    run = sarif(tmp_path, file)
    uri = run["artifacts"][0]["location"]["uri"]
    assert unquote(uri) == f"file://{file}"
    done = command("check", str(Path(file).relative_to(tmp_path)), *TODAY, "--report", "sarif", cwd=tmp_path)
    here = json.loads(done.stdout)["runs"][0]
    location = here["artifacts"][0]["location"]
    assert location == {"uri": "a%20%231%20%25%20of%20%C3%BC%3Ax/my%20plan%3F.plan.yaml", "uriBaseId": "%SRCROOT%"}
    assert location["uriBaseId"] in here["originalUriBaseIds"]
    assert here["artifacts"][0]["hashes"]["sha-256"] == hashlib.sha256(Path(file).read_bytes()).hexdigest()
    for one in here["results"]:
        assert one["locations"][0]["physicalLocation"]["artifactLocation"] == location


def paths(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    steps = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, value in steps:
        yield (*path, step), value
        yield from paths(value, (*path, step))


ODD = (
    'plancheck: 1\r\njob: {title: "\U0001f6b0 \u00fc", date: 2026-01-01}\r\n'
    "parts: # after\r\n  a:\r\n    note: >\r\n      folded\r\n      text\r\n\r\n  b: {x: [1, {y: 'it''s'}]} # end\r\n"
    "  c:\r\n    - - one\r\n      - two\r\n    - k: v\r\n      l: w\r\n\r\n# the end\r\n"
)


@pytest.mark.parametrize("sample", [*SAMPLES, ODD], ids=lambda one: one.name if isinstance(one, Path) else "odd")
def test_a_region_holds_its_value_and_no_more(sample: Path | str) -> None:
    """The text of each region, read alone by PyYAML, is the value that stands there."""
    raw = sample.read_bytes() if isinstance(sample, Path) else sample.encode()
    text = raw.decode()
    lines = text.splitlines(keepends=True)
    regions = Regions(raw)
    checked = 0
    for path, value in paths(yaml.load(text, yaml.BaseLoader)):
        line, column = regions.place("".join(f"/{step}" for step in path))
        end = regions.end((line, column))
        assert end is not None
        piece = "".join(lines[line - 1 : end[0]])
        piece = piece[: len(piece) - len(lines[end[0] - 1]) + end[1] - 1][column - 1 :]
        assert piece == piece.strip()
        assert yaml.load(f"{' ' * (column - 1)}{piece}\n", yaml.BaseLoader) == value
        checked += 1
    assert checked > 12


def test_a_fingerprint_outlives_moved_lines_and_other_findings(tmp_path: Path) -> None:
    def prints(*changes: tuple[str, str], head: str = "") -> dict[tuple[str, str], tuple[str, int]]:
        file = Path(plan(tmp_path, "den.plan.yaml", *changes))
        file.write_text(head + file.read_text("utf-8"), encoding="utf-8")
        found = {}
        for one in results(
            sarif(tmp_path, str(file), "--only", "support_spacing", "--only", "static_pressure"), "fail"
        ):
            where = one["locations"][0]
            key = (one["ruleId"], where["logicalLocations"][0]["fullyQualifiedName"])
            line = where["physicalLocation"]["region"]["startLine"]
            found[key] = (one["partialFingerprints"]["rulePath/v1"], line)
        return found

    wide = (
        "supports: {kind: plastic clip, every: 30 in, risers",
        "supports: {kind: plastic clip, every: 60 in, risers",
    )
    strong = ("static: 62 psi", "static: 95 psi")
    before, after = prints(wide), prints(wide, strong, head="# one more\n# line\n")
    assert before
    assert len(after) > len(before)
    for key, (fingerprint, line) in before.items():
        assert after[key] == (fingerprint, line + 2)
    assert len({fingerprint for fingerprint, _ in after.values()}) == len(after)


def test_all_fingerprints_of_the_mistakes_differ(tmp_path: Path) -> None:
    found = [one["partialFingerprints"]["ruleSubject/v1"] for one in results(sarif(tmp_path, MISTAKES), "fail")]
    assert len(set(found)) == len(found) > 15


def test_what_is_waived_or_accepted_is_suppressed(tmp_path: Path) -> None:
    own = rules(tmp_path, 'broken("x", "correction")')
    in_plan = plan(tmp_path, "in.plan.yaml", more=f"waivers: [{WAIVER}]\n")
    [one] = results(sarif(tmp_path, in_plan, *own), "fail")
    assert one["suppressions"] == [
        {"kind": "inSource", "status": "accepted", "justification": "agreed. Waived by a crew until 2027-01-01."}
    ]
    bare = plan(tmp_path)
    beside = tmp_path / "waivers.yaml"
    beside.write_text(f"plancheck: 1\nwaivers: [{WAIVER}]\n", encoding="utf-8")
    [one] = results(sarif(tmp_path, bare, *own, "--waivers", str(beside)), "fail")
    assert one["suppressions"][0]["kind"] == "external"
    accepted = ("--accepted", str(tmp_path / "old.json"))
    report(tmp_path, "json", bare, *own, *accepted, "--accept")
    run = sarif(tmp_path, bare, *own, *accepted)
    assert [len(one["suppressions"]) for one in results(run, "fail")] == [1]
    assert run["invocations"][0]["exitCode"] == 0


def test_a_finding_on_a_waiver_stands_in_its_own_file(tmp_path: Path) -> None:
    beside = tmp_path / "waivers.yaml"
    beside.write_text(f"plancheck: 1\nwaivers:\n  - {WAIVER}\n", encoding="utf-8")
    run = sarif(tmp_path, plan(tmp_path), *rules(tmp_path, "holds()"), "--waivers", str(beside))
    [one] = results(run, "fail")
    assert one["ruleId"] == "waiver"
    assert run["tool"]["driver"]["rules"][one["ruleIndex"]]["id"] == "waiver"
    where = one["locations"][0]["physicalLocation"]
    assert unquote(where["artifactLocation"]["uri"]).endswith("/waivers.yaml")
    assert where["region"]["startLine"] == 3


def test_crashed_and_unread_are_notifications(tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan.yaml"
    bad.write_text("plancheck: 1\na: yes\n", encoding="utf-8")
    good = plan(tmp_path)
    number, text = report(tmp_path, "sarif", str(bad), good, *rules(tmp_path, "1 / 0"))
    run = sarif(tmp_path, str(bad), good, *rules(tmp_path, "1 / 0"))
    assert json.loads(text)["runs"] == [run]
    said = run["invocations"][0]
    assert (number, said["exitCode"], said["executionSuccessful"]) == (3, 3, False)
    crashed, unread = said["toolExecutionNotifications"]
    assert crashed["associatedRule"]["id"] == "own_rule"
    assert "ZeroDivisionError" in crashed["message"]["text"]
    region = unread["locations"][0]["physicalLocation"]["region"]
    assert region == {"startLine": 2, "startColumn": 4}
    assert run["results"] == []


def test_not_shown_counts_only_where_it_must_show(tmp_path: Path) -> None:
    own = (plan(tmp_path), *rules(tmp_path, "lost()"))
    assert [one["level"] for one in results(sarif(tmp_path, *own), "open")] == ["none"]
    must = sarif(tmp_path, *own, "--must-show", "own_rule")
    assert [one["level"] for one in results(must, "fail")] == ["warning"]
    assert must["invocations"][0]["exitCode"] == 1


def test_text_of_a_plan_is_only_text(tmp_path: Path) -> None:
    """No placeholder, no link, no control character and no mark that turns the writing direction gets into a message."""
    evil = plan(
        tmp_path, "evil.plan.yaml", ("title: Test cottage", f"title: {EVIL}"), ("name: Bathroom", f"name: {EVIL}")
    )
    own = rules(tmp_path, f"broken({EVIL}, 'advice')")
    run = sarif(tmp_path, evil, *own)
    [one] = results(run, "fail")
    said = one["message"]["text"]
    assert "{{use: x}}" in said
    assert r"\[a\](http" in said
    assert not any(sign in json.dumps(run, ensure_ascii=False) for sign in "\x01\x1b\x00\u202e\ufffe")
    junit(tmp_path, evil, *own)
