"""Questions asked of a measure that cannot be read. Each answers (what was found, how to write it), or nothing.

text is plain text without a leading about, quoted the same as it stands in a message, kind a kind of measure.
No pattern here repeats inside a repetition, and every text is short.
"""

from __future__ import annotations

import re

from plancheck.measures.examples import EXAMPLES, named, readings
from plancheck.measures.kinds import KINDS, shown
from plancheck.measures.quantities import LEAST_SI, celsius, unit_words
from plancheck.measures.spelling import LONGEST, take_number, take_sign, words_of
from plancheck.measures.units import length_tenths_mm, unit_factor

Answer = tuple[str, str] | None

_NUMBER = r"(?:[0-9]{1,9}[ -][0-9]{1,3}/[0-9]{1,3}|[0-9]{1,9}/[0-9]{1,3}|[0-9]{1,9}\.[0-9]{1,9}|[0-9]{1,9})"
_APPROXIMATE = re.compile(r"(?:~|≈|(?:approximately|approx|roughly|around|circa|ca|abt|est)\b\.?) ?", re.IGNORECASE)
_RANGE = re.compile(
    rf"({_NUMBER}) ?([a-z\"'%°#/]{{0,9}}\.?) ?(?:-|\bto\b|\.\.) ?({_NUMBER})(?![0-9/])(.{{0,20}})", re.IGNORECASE
)
_LOOSE_HYPHEN = re.compile(r"([0-9]{1,9})(?: - | -|- )([0-9]{1,3}/[0-9]{1,3})(.{0,20})$")
_PLAIN_FRACTION = re.compile(r"[0-9]+/[0-9]+$")
_COMMA = re.compile(r"([0-9]{1,9}) ?, ?([0-9]{1,9})")
_FRACTION = re.compile(r"(?:([0-9]{1,9})(?: |-))?([0-9]{1,9})/([0-9]{1,9})")
_DENOMINATORS = (2, 4, 8, 16, 32, 64)
_LONE_NUMBER = re.compile(rf"[+-]? ?({_NUMBER}|\.[0-9]{{1,9}})$")
_AFTER_NUMBER = re.compile(r"[0-9 /.+-]*(.*)")


def empty_or_long(text: str, quoted: str, kind: str) -> Answer:
    """Nothing at all, or far too much."""
    if not text or text.lower() == "about":
        return "nothing is written here", f"write {named(kind)} such as {EXAMPLES[kind]}"
    if len(text) > LONGEST or re.search(r"[0-9]{16}", text):
        return f"{quoted} is too long for {named(kind)}", f"write it such as {EXAMPLES[kind]}"
    return None


def estimate(text: str, quoted: str, kind: str) -> Answer:
    """An estimate written in another way than the plan file's."""
    found = _APPROXIMATE.match(text)
    if not found:
        return None
    return f"{quoted} is an estimate written another way", f"write about {text[found.end() :] or EXAMPLES[kind]}"


def tolerance(text: str, quoted: str, kind: str) -> Answer:
    """Plus or minus something."""
    if not re.search(r"±|\+ ?/ ?-|\+ ?-", text):
        return None
    return f"{quoted} has a tolerance, which is not taken", f"write the one {kind} meant, such as {EXAMPLES[kind]}"


def comma(text: str, quoted: str, kind: str) -> Answer:
    """A decimal comma, or a comma between thousands."""
    found = _COMMA.search(text)
    if not found:
        return None
    whole, part = found.groups()
    unit = f" {text[found.end() :].strip()}".rstrip()
    thousands = f"{whole} {part}" if len(part) == 3 else f"{whole} {part:0<3}" if len(part) < 3 else whole + part
    return (
        f"{quoted} can be read two ways",
        f"{whole}.{part}{unit}, or {thousands}{unit}? write a point, or leave the comma out",
    )


def colon(text: str, quoted: str, kind: str) -> Answer:
    """3:30 and the like."""
    if not re.search(r"[0-9] ?: ?[0-9]", text):
        return None
    return f"{quoted} has a colon, which says no unit", f"write {named(kind)} such as {EXAMPLES[kind]}"


def loose_hyphen(text: str, quoted: str, kind: str) -> Answer:
    """6 - 1/2 in: six and a half, or a half less?"""
    found = _LOOSE_HYPHEN.match(text)
    if not found:
        return None
    whole, part, rest = found.groups()
    return (
        f"{quoted} can be read two ways",
        f"write {whole}-{part}{rest} for {whole} and {part}, or the one {kind} meant",
    )


def span(text: str, quoted: str, kind: str) -> Answer:
    """1/2 - 3/4: from one to the other?"""
    found = _RANGE.search(text)
    if not found:
        return None
    low, unit, high, rest = found.groups()
    if low.isdecimal() and f"{low}-{high}" in text and _PLAIN_FRACTION.match(high):
        return None  # six and a half, not six to a half
    unit = f" {rest.strip() or unit}".rstrip()
    return f"{quoted} can be read as a range", f"{low}{unit}, or {high}{unit}? write the one meant"


def fraction(text: str, quoted: str, kind: str) -> Answer:
    """A fraction that is on no tape."""
    found = _FRACTION.search(text)
    if not found:
        return None
    whole, top, bottom = int(found.group(1) or 0), int(found.group(2)), int(found.group(3))
    if bottom == 0:
        return f"{quoted} divides by nothing", f"write {named(kind)} such as {EXAMPLES[kind]}"
    if bottom not in _DENOMINATORS:
        where = "on no tape" if kind == "length" else "not taken"
        near = sixteenths(round((whole + top / bottom) * 16))
        return f"{quoted} has a fraction that is {where}", f"the nearest sixteenth is {near}: write that, or a decimal"
    if top < bottom:
        return None
    unspaced = _lost_space(found.group(2), bottom) if not whole else ""
    return (
        f"{quoted} has more than a whole in its fraction",
        f"{mixed(whole, top, bottom)}{unspaced}? write the one meant",
    )


def _lost_space(top: str, bottom: int) -> str:
    """The other readings of 11/2, in which a space was lost: 1-1/2."""
    splits = [(top[:at], top[at:]) for at in range(1, len(top))]
    likely = [f"{whole}-{part}/{bottom}" for whole, part in splits if part[0] != "0" and int(part) < bottom]
    return "".join([f", or {reading}" for reading in likely])


def no_number(text: str, quoted: str, kind: str) -> Answer:
    """Words without a number."""
    if re.search(r"[0-9]", text):
        return None
    return f"{quoted} has no number", f"write {named(kind)} such as {EXAMPLES[kind]}"


def no_unit(text: str, quoted: str, kind: str) -> Answer:
    """A number and nothing else."""
    found = _LONE_NUMBER.match(text)
    if not found or text.startswith("--"):
        return None
    value, _ = take_number(words_of(found.group(1)), 0)
    return f"{quoted} has no unit", f"{text} could be {readings(text, value, kind)}: write the unit"


def absolute_pressure(text: str, quoted: str, kind: str) -> Answer:
    """psia and psid, where a gauge pressure belongs."""
    found = re.search(r"(psi|kpa|bar) ?([ad])\b", text, re.IGNORECASE)
    if kind != "pressure" or not found:
        return None
    unit = found.group(1)
    if found.group(2).lower() == "a":
        return f"{quoted} counts from vacuum; a gauge does not", f"write what the gauge reads, such as {EXAMPLES[kind]}"
    return f"{quoted} is a difference, not a pressure at one place", f"write the gauge pressure in {unit}"


def bare_degrees(text: str, quoted: str, kind: str) -> Answer:
    """Degrees without a scale, and kelvin."""
    if kind not in ("temperature", "difference"):
        return None
    found = re.match(r"([+-]? ?[0-9.]{1,12}) ?(degrees|degree|deg\.?|°|k|kelvin)$", text, re.IGNORECASE)
    if not found:
        return None
    number, word = found.groups()
    if word[0] in "kK":
        return f"{quoted} is in kelvin", f"write {named(kind)} in degF or degC, such as {EXAMPLES[kind]}"
    return f"{quoted} does not say which degrees", f"{number} degF, or {number} degC? write which"


def confused_capitals(text: str, quoted: str, kind: str) -> Answer:
    """mPa, ML and the like: a capital makes a thousand million of it."""
    found = re.search(r"(?<![A-Za-z])(?:Mm|mM|ML|Ml|mPag?|mpa|mW|MW|mJ/hr?)(?![A-Za-z])", text)
    if not found:
        return None
    return f"{quoted} has a unit with the wrong capitals", f"write {named(kind)} such as {EXAMPLES[kind]}"


def ambiguous_unit(text: str, quoted: str, kind: str) -> Answer:
    """20 m or 3 months of time, 40 MBH."""
    if kind == "duration" and re.search(r"[0-9] ?m\.?$", text, re.IGNORECASE):
        return f"{quoted} may be minutes or months", "write min, or the number of days"
    if kind == "duration" and re.search(r"[0-9] ?(?:mos?|months?|years?|yr)\.?$", text, re.IGNORECASE):
        return f"{quoted} has no fixed number of days", "write the number of days"
    if kind == "power" and re.search(r"[0-9] ?mb(?:h|tu.*)$", text, re.IGNORECASE):
        return f"{quoted} may be thousands or millions", "write it in Btu/h, kBtu/h or kW"
    return None


def below_least(text: str, quoted: str, kind: str) -> Answer:
    """Less than nothing."""
    words = words_of(text)
    start, sign = take_sign(words)
    amount, at = take_number(words, start)
    if kind not in LEAST_SI or not at:
        return None
    factor = unit_factor(kind, unit_words(words, at)) if words[at] else float(LEAST_SI[kind] == 0)
    si = celsius(sign * amount, factor) if kind == "temperature" else sign * amount * factor
    if not factor or si >= LEAST_SI[kind]:
        return None
    return f"{quoted} is less than {named(kind)} can be", "leave out the minus, or look at the number again"


def other_kind(text: str, quoted: str, kind: str) -> Answer:
    """60 psi where a length belongs."""
    words = words_of(text)
    start, _ = take_sign(words)
    _, at = take_number(words, start)
    unit = unit_words(words, at) if at else ""
    if not unit:
        return None
    if length_tenths_mm(unit):
        return f"{quoted} is a length where {named(kind)} belongs", f"write {named(kind)} such as {EXAMPLES[kind]}"
    for other in KINDS:
        if unit_factor(other, unit):
            return f"{quoted} is {named(other)} where {named(kind)} belongs", f"write it such as {EXAMPLES[kind]}"
    return None


def unreadable(text: str, quoted: str, kind: str) -> tuple[str, str]:
    """The last word: what stands after the number is no unit of this kind, or nothing fits."""
    words = words_of(text)
    _, at = take_number(words, take_sign(words)[0])
    found = _AFTER_NUMBER.match(text)
    rest = found.group(1) if found else ""
    if at and rest and words[at] != "." and not re.search(r"[0-9]", rest):
        return f"{quoted}: {shown(rest)} is no unit of {named(kind)}", f"write it such as {EXAMPLES[kind]}"
    return f"{quoted} cannot be read as {named(kind)}", f"write it such as {EXAMPLES[kind]}"


def sixteenths(count: int) -> str:
    """A number of sixteenths as a tape says it: 6-1/2, 5/16, 3."""
    return mixed(0, count, 16)


def mixed(whole: int, top: int, bottom: int) -> str:
    """whole and top/bottom as a mixed number in lowest terms, 6-1/2; bottom is a power of two."""
    whole, top = whole + top // bottom, top % bottom
    while top and top % 2 == 0 and bottom > 1:
        top, bottom = top // 2, bottom // 2
    if not top:
        return str(whole)
    return f"{whole}-{top}/{bottom}" if whole else f"{top}/{bottom}"
