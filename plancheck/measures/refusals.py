"""Why a measure cannot be read, in a plumber's words, and how to write it. Imported only when one cannot.

The questions are asked in order; the first answer is the one given.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from plancheck.measures import questions as ask
from plancheck.measures.examples import EXAMPLES, named
from plancheck.measures.kinds import MeasureError, shown, visible
from plancheck.measures.sizes import DN_MADE, INCH_NAMES, METRIC_MADE, MM_PER_INCH
from plancheck.measures.spelling import LONGEST, MARKS, plain, take_about, take_number, words_of

Question = Callable[[str, str, str], ask.Answer]

_OTHER_TYPES = {bool: "true or false", list: "a list", dict: "a group of keys", type(None): "nothing"}
_FEET = r"([0-9]{1,6}) ?(?:'|ft\.?|feet|foot) ?-? ?"
_FEET_OPEN = re.compile(_FEET + r"([0-9][0-9 /.-]{0,12})$", re.IGNORECASE)
_FEET_BROKEN = re.compile(r"[0-9 -]{0,9}[./][0-9]{1,9} ?(?:'|ft\.?|feet|foot) ?-? ?[0-9]", re.IGNORECASE)
_FEET_INCHES = re.compile(_FEET + r"([0-9]{2,6})([0-9 /.-]{0,9}) ?-?(?:\"|in)", re.IGNORECASE)
_FEET_HYPHEN_INCHES = re.compile(
    r"([0-9]{1,6})-([0-9]{1,2}(?:[ -][0-9]{1,2}/[0-9]{1,2})?)( ?[a-z\".]{0,8})$", re.IGNORECASE
)
_LONGEST_MEND = 160
_ROUNDED_MM = 0.5
_MISSING_SLASH = {"12": "1/2", "14": "1/4", "18": "1/8", "34": "3/4", "38": "3/8", "58": "5/8", "78": "7/8"}


def length_refusal(value: object) -> MeasureError:
    """The MeasureError for something that read_length cannot read."""
    return _refusal(value, "length", (*_FORM, *_LENGTHS, *_NUMBERS, ask.other_kind))


def quantity_refusal(value: object, kind: str) -> MeasureError:
    """The MeasureError for something that read_quantity cannot read as this kind."""
    return _refusal(value, kind, (*_FORM, ask.below_least, *_NUMBERS, *_UNITS, ask.other_kind))


def size_refusal(value: object) -> MeasureError:
    """The MeasureError for something that read_size cannot read."""
    return _refusal(value, "size", (*_FORM, _no_estimate, ask.span, ask.fraction, _several, ask.no_number, _not_made))


def _refusal(value: object, kind: str, questions: tuple[Question, ...]) -> MeasureError:
    if isinstance(value, str):
        text, _ = take_about(plain(value.strip()[: 4 * LONGEST]))
        quoted = shown(value.strip())
    elif isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) < 1e12:
        text = f"{value:.12g}" if isinstance(value, float) else str(value)
        quoted = shown(text)
    else:
        return MeasureError(f"{_type_words(value)} is written here", f"write {named(kind)} such as {EXAMPLES[kind]}")
    for question in questions:
        answer = question(text, quoted, kind)
        if answer:
            says, mend = answer
            return MeasureError(says, visible(mend, _LONGEST_MEND))
    return MeasureError(*ask.unreadable(text, quoted, kind))


def _type_words(value: object) -> str:
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return "no number one can measure"
    return _OTHER_TYPES.get(type(value), "something that is no measure")


def _height(text: str, quoted: str, kind: str) -> ask.Answer:
    if not re.search(r"\b(?:aff|afg|el|elev)\b", text, re.IGNORECASE):
        return None
    return f"{quoted} says what it is measured from", "write the height alone, such as 42 in; its key says from where"


def _feet_hyphen_inches(text: str, quoted: str, kind: str) -> ask.Answer:
    """3-6 1/2: three feet six and a half, or a range? 3-1/2 is not asked about: it is three and a half."""
    found = _FEET_HYPHEN_INCHES.match(text)
    if not found or int(found.group(2)[:2].strip()) >= 12:
        return None
    feet, inches, unit = found.groups()
    unit = unit.strip() or "in"
    joined = inches.replace(" ", "-")
    return f"{quoted} can be read two ways", f"{feet} ft {joined} in, or {feet} to {joined} {unit}? write the one meant"


def _open_feet(text: str, quoted: str, kind: str) -> ask.Answer:
    found = _FEET_OPEN.match(text)
    if not found:
        return None
    feet, rest = found.group(1), found.group(2).strip()
    inches, at = take_number(words_of(rest), 0)
    if not at or inches >= 12:
        return None
    return f"{quoted} has no unit after {rest}", f"write {feet} ft {rest.replace(' ', '-')} in"


def _broken_feet(text: str, quoted: str, kind: str) -> ask.Answer:
    found = _FEET_BROKEN.match(text)
    if not found:
        return None
    return f"{quoted} has a part of a foot before its inches", "write whole feet and inches, such as 3 ft 6-1/2 in"


def _too_many_inches(text: str, quoted: str, kind: str) -> ask.Answer:
    found = _FEET_INCHES.match(text)
    if not found or int(found.group(2)) < 12 or found.group(3).startswith("/"):
        return None
    feet, inches, part = int(found.group(1)), int(found.group(2)), found.group(3).strip()
    hint = (
        f", or {feet} ft {_MISSING_SLASH[found.group(2)]} in" if found.group(2) in _MISSING_SLASH and not part else ""
    )
    tail = f"-{part.lstrip('-')}" if part.strip("-") and not part.startswith(".") else part.strip("-")
    return (
        f"{quoted} has a foot or more in its inches",
        f"{feet + inches // 12} ft {inches % 12}{tail} in{hint}? write the one meant",
    )


def _no_estimate(text: str, quoted: str, kind: str) -> ask.Answer:
    if not re.match(r"'about ", quoted, re.IGNORECASE):
        return None
    return (
        f"{quoted} is an estimate, but a size is a name",
        f"write the name alone, such as {EXAMPLES[kind]}, or not known",
    )


def _several(text: str, quoted: str, kind: str) -> ask.Answer:
    if not re.search(r"[0-9\"] ?[xX×] ?[0-9]", text):
        return None
    return f"{quoted} names several sizes where one belongs", f"write one, such as {EXAMPLES[kind]}"


def _not_made(text: str, quoted: str, kind: str) -> ask.Answer:
    """A size that reads well, but that nobody makes."""
    words = words_of(text)
    if words[0].lower() == "dn" or words[1] in ("A", "a"):
        number, _ = take_number([*words[:2], *MARKS], 1 if words[0].lower() == "dn" else 0)
        return f"nobody makes size {quoted}", f"the nearest made: {_nearest(number, _named_sizes(DN_MADE, 'DN{}'))}"
    number, at = take_number(words, 0)
    unit = words[at].lower() if at else ""
    if unit == "mm":
        return f"nobody makes size {quoted}", _near_metric(number)
    if not at:
        return None
    if unit not in ("", '"', "in", "in.", "inch", "inches") or words[at + 1]:
        return f"{quoted} says more than a size, or something else", f"write the name alone, such as {EXAMPLES[kind]}"
    other = f", or {number:g} mm in metric sizes" if number in METRIC_MADE else ""
    return f"nobody makes size {quoted}", f"the nearest made: {_nearest(number, list(INCH_NAMES.items()))}{other}"


def _near_metric(number: float) -> str:
    """Made sizes next to a number of millimetres, and the inch size whose name it may be in rounded millimetres."""
    near = _nearest(number, _named_sizes(METRIC_MADE, "{} mm"))
    for inches, name in INCH_NAMES.items():
        if abs(inches * MM_PER_INCH - number) <= _ROUNDED_MM:
            return f"the nearest made: {near}; or write {name} if an inch size is meant"
    return f"the nearest made: {near}"


def _named_sizes(made: tuple[int, ...], name: str) -> list[tuple[float, str]]:
    return [(float(number), name.format(number)) for number in made]


def _nearest(number: float, made: list[tuple[float, str]]) -> str:
    """The names made next below and next above number."""
    below = [name for value, name in made if value < number][-1:]
    above = [name for value, name in made if value > number][:1]
    return " and ".join(below + above)


_FORM: tuple[Question, ...] = (ask.empty_or_long, ask.estimate, ask.tolerance, ask.comma, ask.colon)
_LENGTHS: tuple[Question, ...] = (_height, _feet_hyphen_inches, _broken_feet, _open_feet, _too_many_inches)
_NUMBERS: tuple[Question, ...] = (
    ask.loose_hyphen,
    ask.span,
    ask.fraction,
    ask.no_number,
    ask.no_unit,
    ask.confused_capitals,
)
_UNITS: tuple[Question, ...] = (ask.absolute_pressure, ask.bare_degrees, ask.ambiguous_unit)
