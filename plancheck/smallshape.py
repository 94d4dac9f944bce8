"""Small files beside a plan (amendments, waivers, accepted findings): read with their places, held to a schema of their own.

As for plans jsonschema-rs accepts, and only a refusal loads what explains it.
"""

from __future__ import annotations

import plancheck.schemas
from plancheck.errors import Problem, Unreadable
from plancheck.reading import Source, read_plan

_PLAN_BEGINS = "start with  plancheck: 1  and a  parts:  section"
_BEGINS = {
    "amendments": "start with  plancheck: 1  ,  authority:  and  limits:",
    "waivers": "start with  plancheck: 1  and  waivers:",
    "accepted": "write it anew with --accept",
    "rubric": "start with  plancheck: 1  ,  title:  and  sections:",
    "marks": "start with  plancheck: 1  and  candidates:",
}


def read_small(file: str, kind: str) -> Source:
    """The file as data with places. kind: amendments, waivers, accepted, rubric or marks, the name of its schema. Raises Unreadable."""
    try:
        source = read_plan(file)
    except Unreadable as wrong:
        raise Unreadable(tuple(_reworded(problem, kind) for problem in wrong.problems), wrong.more) from None
    with open(f"{plancheck.schemas.__path__[0]}/{kind}.schema.json", encoding="utf-8") as handle:
        schema = handle.read()
    from jsonschema_rs import validator_for

    if not validator_for(schema).is_valid(source.data):
        from plancheck.smallfaults import explained

        raise Unreadable(*explained(source, schema))
    return source


def _reworded(problem: Problem, kind: str) -> Problem:
    """What the reader says of plans, said of this kind of file."""
    says = problem.says.replace("not a plan file", "not a file")
    return problem._replace(says=says, mend=problem.mend.replace(_PLAN_BEGINS, _BEGINS[kind]).replace("*.plan.yaml", f"*.{kind}.yaml").replace("a plan", "a file"))
