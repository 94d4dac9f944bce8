"""Plain YAML scalars: what YAML 1.1 and YAML 1.2 read alike is taken, the rest is refused with "quote it"."""

from plancheck.record import NamedTuple

_NOTHING = frozenset(("", "~", "null", "Null", "NULL"))
_SWITCHES = frozenset(
    spelling for word in ("yes", "no", "on", "off") for spelling in (word, word.capitalize(), word.upper())
)
_TRUTHS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_WORDS = frozenset((*_NOTHING, *_SWITCHES, *_TRUTHS, "<<", "="))
_ODD_NUMBERS = frozenset(
    f"{sign}.{word}" for sign in ("", "+", "-") for word in ("inf", "Inf", "INF", "nan", "NaN", "NAN")
)
_NUMBER_START = frozenset("0123456789+-.")
_NUMBER_CHARACTERS = frozenset("0123456789+-._eExXoObBaAcCdDfF:")
LONGEST_NUMBER = 32


class Refused(NamedTuple):
    """Why a plain scalar is not taken: what was found and how to write it instead."""

    says: str
    mend: str


def plain_value(text: str) -> str | int | float | bool | Refused:
    """The value of an unquoted scalar, or why it is refused.

    Numbers and true/false become themselves where both dialects agree; dates and everything else stay text.
    Source of the two readings: YAML 1.1 type repository (bool, int, float) and YAML 1.2.2 section 10.3.2 (core schema).
    """
    if text in _WORDS:
        return _word(text)
    if text[0] in _NUMBER_START and " " not in text and "/" not in text:
        return _number_or_text(text)
    return text


def _word(text: str) -> bool | Refused:
    if text in _TRUTHS:
        return _TRUTHS[text]
    if text in _NOTHING:
        return Refused("an empty value", "leave the key out, or write none or not known")
    if text in _SWITCHES:
        return _ambiguous(text, "true or false")
    return _ambiguous(text, "a sign with a meaning of its own")


def plain_key(text: str) -> Refused | None:
    """Why an unquoted key is refused, or None where it is taken (keys are always text: a port may be called 1)."""
    if text in _NOTHING:
        return Refused("an empty key", "write a name before the colon")
    if text in ("<<", "="):
        return Refused(f"the key '{text}', which merges one mapping into another", "write the keys out, or use 'like'")
    value = plain_value(text)
    return value if isinstance(value, Refused) else None


def _ambiguous(text: str, other: str) -> Refused:
    shown = text if len(text) <= 40 else text[:37] + "..."
    return Refused(
        f"'{shown}' can be read as text or as {other}",
        f'put it in quotes ("{shown}") if it is text, or write it another way',
    )


def _number_or_text(text: str) -> str | int | float | Refused:
    if text in _ODD_NUMBERS:
        return _ambiguous(text, "a number that is no quantity")
    if not _NUMBER_CHARACTERS.issuperset(text):
        return text
    body = text[1:] if text[0] in "+-" else text
    if body.isdigit():
        return _whole_number(text, body)
    if ":" in body:
        return _ambiguous(text, "a number in sixties (hours and minutes)") if _sixties(body) else text
    if body[:2] in ("0x", "0o", "0b") or "_" in body:
        digits = body.replace("_", "").replace(".", "")
        odd = body[0] != "_" and (digits.isdigit() or (body[0] == "0" and len(digits) > 2))
        return _ambiguous(text, "a number in another notation") if odd else text
    return _decimal(text, body)


def _whole_number(text: str, body: str) -> int | Refused:
    if len(body) > 1 and body[0] == "0":
        return _ambiguous(text, "a number counted in eights")
    if len(text) > LONGEST_NUMBER:
        return Refused(f"a number of {len(body)} digits", "write a number of at most 32 digits")
    return int(text)


def _sixties(body: str) -> bool:
    parts = body.replace("_", "").split(":")
    return all(part.replace(".", "", 1).isdigit() for part in parts)


def _decimal(text: str, body: str) -> str | float | Refused:
    mantissa, _, exponent = body.replace("E", "e").partition("e")
    whole, dot, part = mantissa.partition(".")
    if not (whole + part).isdigit() or (whole and not whole.isdigit()) or (part and not part.isdigit()):
        return text
    if "e" in body or "E" in body:
        signed = exponent[:1] in ("+", "-")
        if not (exponent[1:] if signed else exponent).isdigit():
            return text
        return _ambiguous(text, "a number with an exponent")
    if not dot:
        return text
    if len(text) > LONGEST_NUMBER:
        return Refused(f"a number of {len(text)} characters", "write a number of at most 32 characters")
    return float(text)
