"""Rubrics and plans for tests of grading, written to a folder and graded as the command does."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import yaml

from plancheck.gradecalls import Call, Result, run_grade
from plancheck.grading.results import AspectMark, Graded
from tests.casework import CASES, changed, load

TODAY = "2026-05-05"
SMALL = load(CASES / "base" / "small.plan.yaml")


def rubric(aspects: dict[str, dict[str, Any]], **more: Any) -> dict[str, Any]:
    """A rubric of one section `all` with these aspects; weights left out share what is left of 100."""
    left = 100.0 - sum(one.get("weight", 0.0) for one in aspects.values())
    open_ = sum("weight" not in one for one in aspects.values())
    made = {name: {"title": name, "weight": left / open_ if open_ else 0.0, **one} for name, one in aspects.items()}
    return {"plancheck": 1, "title": "A test", "sections": {"all": {"title": "All", "weight": 100, "aspects": made}}, **more}


def run(folder: Path, scheme: dict[str, Any], plans: dict[str, Any], **more: Any) -> Result:
    """Grades plans (name -> data, changes of the small plan, or text) by a rubric given as data."""
    file = folder / "a.rubric.yaml"
    file.write_text(yaml.safe_dump(scheme, sort_keys=False), encoding="utf-8")
    pile = folder / "pile"
    pile.mkdir(exist_ok=True)
    for name, plan in plans.items():
        text = plan if isinstance(plan, str) else json.dumps(plan, ensure_ascii=False)
        (pile / f"{name}.plan.json").write_text(text, encoding="utf-8")
    roster = folder / "roster.csv"
    roster.write_text("file,candidate\n" + "".join(f"{name}.plan.json,{name}\n" for name in plans), encoding="utf-8")
    return run_grade(Call(str(file), (str(pile),), roster=str(roster), today=TODAY, report="json", **more))


def small(**changes: Any) -> dict[str, Any]:
    """The small sound plan with changes (paths with / written as __)."""
    return changed(SMALL, {path.replace("__", "/"): value for path, value in changes.items()})


def by_name(result: Result) -> dict[str, Graded]:
    """The candidates by their pseudonyms."""
    return {one.candidate: one for one in result.class_}


def aspect(one: Graded, name: str) -> AspectMark:
    """One aspect of a candidate, by its name or section/name."""
    return next(found for section in one.sections for found in section.aspects if found.key.endswith(f"/{name}") or found.key == name)
