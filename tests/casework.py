"""Case files: a sound base plan, the changes made to it, and what a rule must answer. Data in tests/cases/<rule>/."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import yaml

from plancheck.check import facts_of
from plancheck.engine import Judged, run_rules
from plancheck.loader import built_in_rules
from plancheck.reading import read_bytes
from plancheck.report.assemble import pointer

CASES = Path(__file__).parent / "cases"
TODAY = "2026-05-05"


def case_files() -> list[Path]:
    """Every case file of every rule."""
    return sorted(file for file in CASES.glob("*/*.yaml") if file.parent.name != "base")


def changed(plan: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """The plan with each path (steps joined by /) set to its value; a value of null takes the key out."""
    plan = copy.deepcopy(plan)
    for path, value in (changes or {}).items():
        steps = path.strip("/").split("/")
        here: Any = plan
        for step in steps[:-1]:
            here = here[int(step)] if isinstance(here, list) else here.setdefault(step, {})
        if value is None:
            del here[steps[-1]]
        elif isinstance(here, list):
            here[int(steps[-1])] = value
        else:
            here[steps[-1]] = value
    return plan


def plan_of(case: dict[str, Any]) -> dict[str, Any]:
    """The plan of a case: its own, or its base with the changes."""
    if "plan" in case:
        base: dict[str, Any] = case["plan"]
    else:
        base = load(CASES / "base" / f"{case.get('base', 'small')}.plan.yaml")
    return changed(base, case.get("change", {}))


class _TextLoader(yaml.SafeLoader):
    """Dates stay text, as plancheck reads them."""


_TextLoader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in pairs if tag != "tag:yaml.org,2002:timestamp"]
    for first, pairs in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def load(file: Path) -> Any:
    """A YAML file of ours; dates stay text."""
    return yaml.load(file.read_text(encoding="utf-8"), Loader=_TextLoader)


def judge(plan: dict[str, Any], rule: str, today: str = TODAY) -> list[Judged]:
    """The answers of one rule on a plan given as data."""
    raw = json.dumps(plan, ensure_ascii=False).encode("utf-8")
    chosen = tuple(one for one in built_in_rules() if one.id == rule)
    assert chosen, f"no rule {rule}"
    return list(run_rules(chosen, facts_of(read_bytes(raw, "case.plan.yaml"), today)))


def spoken(one: Judged) -> str:
    """All the words of an answer, for looking up the expected ones."""
    o = one.outcome
    source = str(o.limit.source) if o.limit is not None else ""
    words = (source, one.subject.name, o.says, o.found, o.needed, o.why, o.mend, o.ask, o.caution, *map(pointer, o.needs))
    return " ".join(words).lower()
