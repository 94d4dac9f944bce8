"""Whether the data of a file has the shape of a plan, as schemas/plan.schema.json describes it.

jsonschema-rs accepts, in microseconds. Only a refusal loads what explains it (shapefaults, shapewords): jsonschema
finds the faults, because its errors come one by one and say which piece of the schema failed; asked for all errors at
once jsonschema-rs copies a whole section for every bad name in it, gigabytes for a few thousand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import plancheck.schemas
from plancheck.errors import Unreadable

if TYPE_CHECKING:
    from jsonschema_rs import Validator

    from plancheck.reading import Source

_MADE: list[Validator] = []


def schema_text() -> str:
    """The text of the plan schema."""
    with open(f"{plancheck.schemas.__path__[0]}/plan.schema.json", encoding="utf-8") as file:
        return file.read()


def acceptor() -> Validator:
    """The validator that accepts whole plans, made once a process. It takes the text as it is: json stays unloaded."""
    if not _MADE:
        from jsonschema_rs import validator_for  # half of the start-up time: only when a plan is read

        _MADE.append(validator_for(schema_text()))
    return _MADE[0]


def check_shape(source: Source) -> None:
    """Raises Unreadable with every shape error of the file, in file order, the first 50 of them; more has the rest.

    In a file with more than 50 of them a thing that was not looked into any more counts once in the rest, so that more
    is then "at least so many". A thing with over 500 faults is looked into no further.
    """
    if acceptor().is_valid(source.data):
        return
    from plancheck.shapewords import explained  # only for a refusal

    problems, more = explained(source)
    raise Unreadable(problems, more)
