"""Amendments: what a file may say, what it is refused for and where, and what it does to the answers of rules."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plancheck.amendments.load import Amendments, load_amendments
from plancheck.amendments.remarks import remarks_on
from plancheck.amendments.values import carried, is_words, read_value
from plancheck.check import facts_of
from plancheck.engine import run_rules
from plancheck.errors import Problem, Unreadable
from plancheck.facts import Facts
from plancheck.limits import PRACTICE, Amended, Limit, Limits, Source, Value, printed
from plancheck.loader import LoadedRule, built_in_rules
from plancheck.measures import KINDS, METRIC, US
from plancheck.outcomes import Measured, Outcome, Rule, Subject
from plancheck.reading import read_bytes, read_plan
from plancheck.report.figures import figure, limit_shown
from plancheck.rulekit import broken, holds
from tests.casework import CASES

ROOT = Path(__file__).parents[2]
RULES = built_in_rules()
HEAD = "plancheck: 1\nauthority: Fenmark County\nedition: 2024\ndate: 2026-01-15\nlimits:\n"
WORDS = "A title\n\nLooks at: a.\nWhy: b.\nTo mend: c.\nCannot see: d.\nAsk: e.\n"
WIDE = Limit("wide", "how wide", "length", "at least", upc=(Value(1.0, printed("UPC", "2021", "1.1")),))
LONG = Limit("long", "how long", "length", "at most", practice=(Value(2.0, PRACTICE, practice=True),))
BY = Source("Fenmark County", "2024", "4.2", "amended")
EVERY = [(rule, limit) for rule in RULES for limit in rule.rule.limits]


def amend(tmp_path: Path, text: str, name: str = "a.amendments.yaml") -> Amendments:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    return load_amendments(str(file), RULES)


def refused(tmp_path: Path, text: str) -> list[Problem]:
    with pytest.raises(Unreadable) as caught:
        amend(tmp_path, text)
    return list(caught.value.problems)


def facts() -> Facts:
    return facts_of(read_bytes((CASES / "base" / "small.plan.yaml").read_bytes(), "small.plan.yaml"), "2026-05-05")


def answer(check: Any, **amended: Amended) -> Outcome:
    """What a rule with the limits wide and long answers under the UPC 2021, these amended."""

    def subjects(facts: Facts) -> list[Subject]:
        return [Subject(("parts", "lav"), "the lavatory")]

    rule = LoadedRule("a_rule", Rule("hazard", "layout", (WIDE, LONG)), subjects, check, WORDS, "a_rule.py")
    return run_rules((rule,), facts(), {"a_rule": amended})[0].outcome


def narrow_and_long(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """0.5 m wide, 3 m long: breaks first the width, then the length."""
    wide, long = limits.of(WIDE), limits.of(LONG)
    if wide.number > 0.5:
        return broken("narrow", "correction", limit=wide)
    return broken("long", "correction", limit=long) if long.number < 3 else holds()


@pytest.mark.parametrize("file", sorted((ROOT / "sample_plans").glob("*.amendments.yaml")), ids=lambda file: file.stem)
def test_the_samples_are_taken(file: Path) -> None:
    found = load_amendments(str(file), RULES)
    said = yaml.safe_load(file.read_text(encoding="utf-8"))
    assert {f"{rule}.{limit}" for rule, own in found.limits.items() for limit in own} == set(said["limits"])
    assert all(one.because for own in found.limits.values() for one in own.values())


def test_the_sample_city_wants_100_psi() -> None:
    found = load_amendments(str(ROOT / "sample_plans" / "port-velden.amendments.yaml"), RULES)
    for name in ("water_least", "air_least"):
        assert found.limits["pressure_test"][name].value == pytest.approx(100 * 6894.757, rel=1e-6)


@pytest.mark.parametrize(("rule", "limit"), EVERY, ids=[f"{rule.id}.{limit.id}" for rule, limit in EVERY])
def test_every_limit_takes_its_own_values_as_they_are_printed(rule: LoadedRule, limit: Limit) -> None:
    for value in carried(limit):
        for units in (US, METRIC):
            measure = limit.unit == "length" or limit.unit in KINDS
            words = figure(Measured(value, limit.unit), units).words if measure else value
            found = read_value(limit, words)
            assert (
                found == value if is_words(limit) else found == pytest.approx(value, rel=0.03)
            )  # printed to two figures


def test_a_value_in_force_names_its_authority_and_what_it_stands_in_for() -> None:
    limits = Limits("upc", 2021, {"wide": Amended(BY, "because", 1.5)})
    found = limits.of(WIDE)
    assert (found.value, found.source, found.because, found.practice) == (1.5, BY, "because", False)
    assert found.instead == WIDE.upc[0]
    shown = limit_shown(found, METRIC)
    assert (shown.read, shown.authority, shown.because) == ("amended", "Fenmark County", "because")
    assert shown.instead == "1000 mm, UPC 2021 1.1"


def test_edition_and_family_still_choose_what_is_amended() -> None:
    other = Limits("irc", 2018, {"wide": Amended(BY, "because", severity="hazard")})
    assert other.maybe(WIDE) is None
    assert Limits("irc", 2018, {"wide": Amended(BY, "because", 1.5)}).of(WIDE).instead is None


def test_an_amended_practice_limit_is_no_longer_advice() -> None:
    def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
        return broken("long", "correction", limit=limits.of(LONG))

    assert answer(check).severity == "advice"
    assert answer(check, long=Amended(BY, "x", 1.0)).severity == "correction"


def test_an_amended_severity_takes_the_place_of_the_rule_s() -> None:
    assert answer(narrow_and_long, wide=Amended(BY, "x", severity="hazard")).severity == "hazard"
    assert answer(narrow_and_long, wide=Amended(BY, "x", severity="advice")).severity == "advice"
    assert answer(narrow_and_long, long=Amended(BY, "x", severity="hazard")).severity == "correction"


def test_what_breaks_a_limit_that_is_off_is_for_a_person_and_what_else_is_wrong_is_told() -> None:
    off = Amended(BY, "the county looks itself", off=True)
    other = answer(narrow_and_long, wide=off)
    assert (other.kind, other.says, other.severity) == ("broken", "long", "advice")
    both = answer(narrow_and_long, wide=off, long=off)
    assert both.kind == "on site"
    for words in ("'how wide' is switched off", "Fenmark County 2024 4.2", "because the county looks itself"):
        assert words in both.says


def test_a_hazard_is_told_though_its_limit_is_off() -> None:
    def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
        return broken("hot", "hazard", limit=limits.of(WIDE))

    found = answer(check, wide=Amended(BY, "x", off=True))
    assert (found.kind, found.severity) == ("broken", "hazard")
    assert "switched off by Fenmark County" in found.caution


def test_a_hazard_stays_one_though_an_authority_calls_it_less() -> None:
    def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
        return broken("hot", "hazard", limit=limits.of(WIDE))

    found = answer(check, wide=Amended(BY, "x", severity="advice"))
    assert (found.kind, found.severity) == ("broken", "hazard")
    assert "calls it advice because x; a hazard is told all the same" in found.caution


def test_amendments_of_a_day_to_come_are_told_as_such() -> None:
    from plancheck.amendments.load import Amendments
    from plancheck.amendments.remarks import remarks_on
    from plancheck.measures import US

    amendments = Amendments("a.yaml", "Fenmark County", "2099", "2099-01-01", "", {})
    assert "after the day of this check, 2026-05-05" in remarks_on(amendments, (), "irc", 2021, US, "2026-05-05")[1]
    assert len(remarks_on(amendments, (), "irc", 2021, US, "2099-01-01")) == 1


def test_a_rule_that_fails_on_the_second_asking_leaves_the_thing_to_a_person() -> None:
    def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
        1 / limits.of(WIDE).number
        return broken("narrow", "correction", limit=limits.of(WIDE))

    assert answer(check, wide=Amended(BY, "x", off=True)).kind == "on site"


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ("static_pressure.highest: {value: 90 psi", "looser than the model code: at most 90 psi, not 80 psi (UPC 2015"),
        ("static_pressure.highest: {value: 70 psi", None),
        ("heater_clearance.clearance: {value: 12 in", "looser than the model code: at least 12 in, not 18 in"),
        ("heater_clearance.clearance: {value: 24 in", None),
        ("static_pressure.highest: {severity: advice", "gives advice only"),
        ("static_pressure.highest: {severity: hazard", None),
        ("static_pressure.highest: {judged: false", "is switched off"),
        ("static_pressure.lowest: {value: 30 psi", None),  # practice, no model code
    ],
)
def test_loosening_is_told_at_the_head(tmp_path: Path, entry: str, words: str | None) -> None:
    found = amend(tmp_path, f"{HEAD}  {entry}, because: so it is}}\n")
    remarks = remarks_on(found, RULES, "upc", 2021, US)
    assert remarks[0].startswith("Amended by Fenmark County 2024 of 2026-01-15")
    assert len(remarks) == (1 if words is None else 2)
    if words is not None:
        assert words in remarks[1]
        assert "because so it is" in remarks[1]


def changed(limit: Limit, how: str) -> Amended:
    """The limit switched off, or a third tighter or looser."""
    if how == "off":
        return Amended(BY, "x", off=True)
    if is_words(limit):
        return Amended(BY, "x", "whatever the county asks")
    tighter = 1.37 if limit.sense == "at least" else 0.73
    value = max([one for one in carried(limit) if not isinstance(one, str)], default=7e5)
    return Amended(BY, "x", value * (tighter if how == "tighter" else 2 - tighter))


@pytest.mark.parametrize("how", ["tighter", "looser", "off"])
@pytest.mark.parametrize("plan", ["boathouse-mistakes", "apprentice", "metric-house"])
def test_every_limit_can_be_amended_and_no_rule_fails(monkeypatch: pytest.MonkeyPatch, plan: str, how: str) -> None:
    here = facts_of(read_plan(str(ROOT / "sample_plans" / f"{plan}.plan.yaml")), "2026-05-05")
    asked: set[tuple[str, int]] = set()
    find = Limits._find

    def noted(self: Limits, limit: Limit) -> Any:
        asked.add((rule.id, id(limit)))
        return find(self, limit)

    monkeypatch.setattr(Limits, "_find", noted)
    for rule in RULES:
        own = {limit.id: changed(limit, how) for limit in rule.rule.limits}
        for one in run_rules((rule,), here, {rule.id: own}):
            assert one.outcome.kind != "crashed", (rule.id, one.outcome.says)
            limit = one.outcome.limit
            if how != "off" and one.outcome.kind == "broken" and limit is not None and limit.amended is not None:
                assert limit.because == "x"
    declared = {(rule.id, id(limit)) for rule in RULES for limit in rule.rule.limits}
    assert asked
    assert asked <= declared  # a rule that asks for a limit it does not declare could not be amended


BAD = {  # entry, line and column of the place (from 1, after the five lines of HEAD), words, how to mend it
    "rule": ("  static_presure.highest: {value: 70 psi, because: x}", 6, 3, "no rule 'static_presure'", "static_pressure"),
    "limit": ("  static_pressure.hihgest: {value: 70 psi, because: x}", 6, 3, "no limit 'hihgest'", "highest"),
    "no limit": ("  test_port.number: {value: 2, because: x}", 6, 3, "no limit 'number'", "no number"),
    "no dot": ("  static_pressure: {value: 70 psi, because: x}", 6, 3, "cannot be a name here", "full stop"),
    "unit": ("  static_pressure.highest: {value: 70 in, because: x}", 6, 36, "70 in", "psi"),
    "no unit": ("  static_pressure.highest: {value: 70, because: x}", 6, 36, "70", "psi"),
    "below zero": ("  static_pressure.highest: {value: -5 psi, because: x}", 6, 36, "cannot be the value", "judged: false"),
    "zero at least": ("  static_pressure.lowest: {value: 0, because: x}", 6, 35, "cannot be the value", "judged: false"),
    "a slip": ("  static_pressure.highest: {value: 90000 psi, because: x}", 6, 36, "cannot be the value", "80 psi"),
    "estimate": ("  static_pressure.highest: {value: about 70 psi, because: x}", 6, 36, "an estimate", "without about"),
    "words for a share": ("  framing_holes.stud_hole: {value: 2 in, because: x}", 6, 36, "no bare figure", "figure alone"),
    "a figure for words": ("  freezing.pipe: {value: 3, because: x}", 6, 26, "demand in words", "what is demanded"),
    "hot": ("  shower_swing.scald: {value: 900 degF, because: x}", 6, 31, "cannot be the value", "120 degF"),
    "no because": ("  static_pressure.highest: {value: 70 psi}", 6, 3, "'because' is missing", "because:"),
    "blank because": ("  static_pressure.highest: {value: 70 psi, because: ' '}", 6, 53, "cannot stand here", "frost"),
    "severity": ("  static_pressure.highest: {severity: bad, because: x}", 6, 39, "'bad' cannot stand here", "correction"),
    "key": ("  static_pressure.highest: {value: 70 psi, becuse: x, because: x}", 6, 44, "no key 'becuse'", "because"),
    "off": ('  static_pressure.highest: {"off": true, because: x}', 6, 29, "no key 'off'", "judged"),
    "nothing": ("  static_pressure.highest: {because: x}", 6, 3, "amends nothing", "judged: false"),
    "both": ("  static_pressure.highest: {judged: false, value: 70 psi, because: x}", 6, 37, "has no value", "leave one"),
    "judged": ("  static_pressure.highest: {judged: true, because: x}", 6, 37, "true cannot stand here", "false"),
    "text": ("  static_pressure.highest: 70 psi", 6, 28, "'70 psi' cannot stand here", "because"),
    "list": ("  static_pressure.highest: {value: [70 psi], because: x}", 6, 36, "a list cannot stand here", "100 psi"),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_is_refused_with_its_place(tmp_path: Path, name: str) -> None:
    entry, line, column, says, mend = BAD[name]
    found = refused(tmp_path, f"{HEAD}{entry}\n")
    assert [(one.line, one.column) for one in found] == [(line, column)], found
    assert says in found[0].says
    assert mend in found[0].mend


def test_everything_is_refused_at_once_in_file_order(tmp_path: Path) -> None:
    found = refused(tmp_path, HEAD + "".join(BAD[name][0] + "\n" for name in ("rule", "limit", "unit")))
    assert [one.line for one in found] == [6, 7, 8]


@pytest.mark.parametrize("key", ["plancheck", "authority", "edition", "date", "limits"])
def test_what_must_be_said(tmp_path: Path, key: str) -> None:
    whole = yaml.safe_load(HEAD.replace("2026-01-15", "'2026-01-15'") + "  a.b: {}\n")
    del whole[key]
    found = refused(tmp_path, yaml.safe_dump(whole | ({"limits": {}} if key != "limits" else {})))
    assert any(f"'{key}' is missing" in one.says for one in found)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("- a\n", "a list"),
        ("plancheck: 1\nplancheck: 1\n", "plancheck"),
        (HEAD.replace("01-15", "02-30") + BAD["rule"][0].replace("presure", "pressure"), "no day of the calendar"),
        ("plancheck: 1\nparts: {}\n", "no key 'parts'"),
    ],
)
def test_what_is_no_such_file(tmp_path: Path, text: str, says: str) -> None:
    found = refused(tmp_path, text)
    assert any(says in one.says for one in found)
    assert not any("parts:" in one.mend for one in found)


BASED = HEAD.replace("limits:", "based_on: b.yaml\nlimits:")


def test_a_file_is_based_on_another_and_wins_over_it(tmp_path: Path) -> None:
    other = HEAD.replace("Fenmark County", "The State").replace(
        "limits:", "limits:\n  static_pressure.lowest: {value: 45 psi, because: s}"
    )
    (tmp_path / "b.yaml").write_text(
        other + "  static_pressure.highest: {value: 75 psi, because: s}\n", encoding="utf-8"
    )
    found = amend(tmp_path, BASED + "  static_pressure.highest: {severity: hazard, because: c}\n").limits[
        "static_pressure"
    ]
    assert found["lowest"].source.document == "The State"
    assert (found["highest"].source.document, found["highest"].value) == ("Fenmark County", None)


def test_circles_and_missing_bases_are_refused_at_the_key(tmp_path: Path) -> None:
    own = BASED + "  static_pressure.highest: {value: 70 psi, because: x}\n"
    missing = refused(tmp_path, own)
    assert "no such file" in missing[0].says
    (tmp_path / "b.yaml").write_text(own.replace("b.yaml", "./sub/../a.amendments.yaml"), encoding="utf-8")
    (tmp_path / "sub").mkdir()
    found = refused(tmp_path, own)
    assert ["circle" in one.says for one in found] == [True]
    assert found[0].line == 5
    assert "circle" in refused(tmp_path, own.replace("b.yaml", "a.amendments.yaml"))[0].says
    row = [f"{number}.yaml" for number in range(12)]
    for name, next_ in pairwise(row):
        (tmp_path / name).write_text(own.replace("b.yaml", next_), encoding="utf-8")
    assert "in a row" in refused(tmp_path, own.replace("b.yaml", row[0]))[0].says


def test_faults_of_both_files_are_told(tmp_path: Path) -> None:
    (tmp_path / "b.yaml").write_text(f"{HEAD}{BAD['unit'][0]}\n", encoding="utf-8")
    found = refused(tmp_path, f"{BASED}{BAD['rule'][0]}\n")
    assert [Path(one.file).name for one in found] == ["a.amendments.yaml", "b.yaml"]


ODD = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12)
    | st.sampled_from(["70 psi", "18 in", "a.b", "static_pressure.highest", "-1 in", "1e9 psi", "none", "hazard", "\x00"]),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(st.sampled_from(["value", "severity", "because", "judged", "off", "clause"]), inner, max_size=4),
    max_leaves=8,
)  # fmt: skip
SOUND: dict[str, Any] = {
    "plancheck": 1,
    "authority": "Fenmark County",
    "edition": 2024,
    "date": "2026-01-15",
    "limits": {"static_pressure.highest": {"value": "70 psi", "because": "x"}},
}
KEYS = st.sampled_from([*SOUND, "based_on", "extra", "static_pressure.highest", "freezing.pipe", "value", "because"])


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(KEYS, KEYS, ODD), min_size=1, max_size=4), st.booleans())
def test_mangled_amendments_are_taken_or_refused_with_words(tmp_path: Path, edits: Any, deep: bool) -> None:
    data: Any = json.loads(json.dumps(SOUND))
    for first, second, value in edits:
        if deep and isinstance(data["limits"], dict) and isinstance(data["limits"].get(first, {}), dict):
            data["limits"].setdefault(first, {})[second] = value
        else:
            data[first] = value
            data.setdefault("limits", {})
    file = tmp_path / "a.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    survives(file)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 2000), st.binary(max_size=6), st.integers(0, 40))
def test_a_damaged_sample_is_taken_or_refused_with_words(tmp_path: Path, at: int, put: bytes, cut: int) -> None:
    raw = (ROOT / "sample_plans" / "port-velden.amendments.yaml").read_bytes()
    file = tmp_path / "a.yaml"
    file.write_bytes(raw[: at % len(raw)] + put + raw[at % len(raw) + cut :])
    survives(file)


def survives(file: Path) -> None:
    try:
        found = load_amendments(str(file), RULES)
    except Unreadable as wrong:
        assert wrong.problems
        assert all(one.says and one.mend for one in wrong.problems)
        return
    run_rules(RULES[:3], facts(), found.limits)
    assert remarks_on(found, RULES, "upc", 2021, US)
