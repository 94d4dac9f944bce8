"""What `flow` shows of plans too large for a row for each pair: the most telling ones, and how many are left out."""

from __future__ import annotations

import itertools
import math

import pytest

from plancheck.flow import combos
from plancheck.flow.pages import largest, outlets, showers
from plancheck.flow.pages.table import Gaps, Table
from plancheck.flow.shower import rivals
from tests.flow.test_answers import boathouse


def test_of_many_outlets_those_with_least_left_are_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    flow = boathouse()
    whole = outlets.outlets_table(flow, flow, flow, Gaps())
    assert whole.says == ()
    monkeypatch.setattr(outlets, "MOST_OUTLETS", 4)
    table = outlets.outlets_table(flow, flow, flow, Gaps())
    assert table.says == (f"{len(flow.house.fixtures) - 4} more outlets are not shown: these have least left at peak as a network.",)  # fmt: skip
    shown = {str(row[0]).partition("/")[0] for row in table.rows}
    assert len(shown) == 4
    worst: dict[str, float] = {}
    for side, pa in flow.network_peak(flow.facts.loads).by.items():
        part = side.partition("/")[0]
        worst[part] = min(pa, worst.get(part, math.inf))
    assert max(worst[part] for part in shown) <= min(pa for part, pa in worst.items() if part not in shown)
    assert [row for row in whole.rows if str(row[0]).partition("/")[0] in shown] == list(table.rows)


def test_of_many_showers_and_draws_the_strongest_are_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    flow = boathouse()
    whole = {table.id: table for table in showers.showers_tables(flow, Gaps())}
    monkeypatch.setattr(showers, "MOST_SHOWERS", 1)
    monkeypatch.setattr(largest, "MOST_DRAWS", 3)
    table, rest = showers.showers_tables(flow, Gaps())
    assert rest.says == ("1 more showers are not shown: those above have least left at peak as a network.",)
    assert len(table.rows) == 3
    assert set(table.rows) <= set(whole[table.id].rows)
    fixture = flow.house.fixtures[table.id.removeprefix("shower ")]
    pulls = sorted((*rivals(flow, fixture, "cold"), *rivals(flow, fixture, "hot")), reverse=True)
    assert {row[0] for row in table.rows} == {edge for _, edge in pulls[:3]}
    assert any(words.startswith(f"{len(whole[table.id].rows) - 3} more draws are not shown") for words in table.says)


def test_all_sets_of_a_few_come_to_the_whole_probability() -> None:
    use = {"a": 0.02, "b": 0.3, "c": 0.1}
    sets, chances = combos._sets(tuple(use), use, 2)
    assert len(sets) == len(set(sets)) == 8
    assert math.fsum(chances) == pytest.approx(1.0, abs=1e-12)
    by_hand = dict(zip(sets, chances, strict=True))
    assert by_hand[frozenset("ac")] == pytest.approx(0.02 * 0.7 * 0.1)


def test_of_many_the_likeliest_come_first_and_never_too_many() -> None:
    use = {f"p{number}": 0.01 + 0.001 * number for number in range(16)}
    sets, chances = combos._sets(tuple(use), use, 10**6)
    assert combos.COVERED <= math.fsum(chances) < 1.0
    assert [len(one) for one in sets] == sorted(len(one) for one in sets)
    few, _ = combos._sets(tuple(use), use, 5)
    assert few == [frozenset(), *(frozenset((f"p{number}",)) for number in (15, 14, 13, 12))]
    every = list(itertools.chain.from_iterable(itertools.combinations(use, size) for size in range(3)))
    assert set(map(frozenset, every)) <= set(sets)


def test_what_covers_too_little_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(combos, "LEAST", 1.1)
    tables: list[Table] = showers.showers_tables(boathouse(), Gaps())
    assert all("Over all combinations: not shown (" in table.says[0] for table in tables)
