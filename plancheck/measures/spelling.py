"""From the characters of a measure to words and numbers, whatever keyboard or drawing program they came from.

Nothing here raises: what is no number gives position 0, and `refusals` finds the words for it.
"""

from __future__ import annotations

import re

LONGEST = 120  # characters; no measure needs more
LARGEST = 1e15  # in the unit written; beyond it a key got stuck
MARKS = ("", "", "", "")  # end of the words, so that looking ahead needs no bounds
HYPHENS = frozenset(("-", " -", "- ", " - "))

_DENOMINATORS = {"2": 2, "4": 4, "8": 8, "16": 16, "32": 32, "64": 64}
# Numbers, words, hyphens with the space beside them (which tells 6-1/2 from 6 - 1/2), and any other mark.
_words = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+|[^\W\d_]+\.?| ?- ?|\S").findall

_SAME = {
    **dict.fromkeys("‘’′ʹ´", "'"),
    **dict.fromkeys("“”″ʺ", '"'),
    **dict.fromkeys("‐‑‒–—−", "-"),
    **dict.fromkeys("⁄∕", "/"),
    "²": "2",
    "³": "3",
    "₂": "2",
    "º": "°",
    "℉": "°F",
    "℃": "°C",
}
_VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
}


def plain(text: str) -> str:
    """text in ASCII as far as a measure goes, with single spaces; two foot marks become one inch mark."""
    if not text.isascii():
        text = "".join([_plain_character(c) for c in text])
    return " ".join(text.split()).replace("''", '"')


def _plain_character(character: str) -> str:
    if character in _VULGAR:
        return f" {_VULGAR[character]} "  # spaces keep 1½ from becoming 11/2
    return _SAME.get(character, character)


def words_of(text: str) -> list[str]:
    """The words, numbers and marks of plain text, with empty words after them."""
    found: list[str] = _words(text)
    found.extend(MARKS)
    return found


def take_about(text: str) -> tuple[str, bool]:
    """Plain text without the word about before it, and whether it stood there."""
    return (text[6:], True) if text[:6].lower() == "about " else (text, False)


def take_sign(words: list[str]) -> tuple[int, float]:
    """Where the number begins, and -1 or 1."""
    if words[0] in HYPHENS:
        return 1, -1.0
    return (1 if words[0] == "+" else 0), 1.0


def starts_number(word: str) -> bool:
    """Whether word is a number, as the words of words_of go."""
    return "0" <= word[:1] <= "9" or (word[:1] == "." and len(word) > 1)


def take_number(words: list[str], at: int) -> tuple[float, int]:
    """The number at words[at] (6, 6.5, 1/2, 6-1/2, 6 1/2, 1 200) and the position after it; position 0 if there is none."""
    first = words[at]
    if not starts_number(first):
        return 0.0, 0
    after = words[at + 1]
    if after == "/":
        return _fraction("0", words, at)
    if after == "-" and words[at + 3] == "/":
        return _fraction(first, words, at + 2)
    if starts_number(after):
        return _fraction(first, words, at + 1) if words[at + 2] == "/" else _grouped(words, at)
    value = float(first)
    return (value, at + 1) if value <= LARGEST else (0.0, 0)


def _fraction(whole: str, words: list[str], at: int) -> tuple[float, int]:
    top, bottom = words[at], _DENOMINATORS.get(words[at + 2], 0)
    if not bottom or not top.isdecimal() or not whole.isdecimal() or len(top) > 3 or len(whole) > 12:
        return 0.0, 0
    if int(top) >= bottom:  # 11/2: five and a half, or 1 1/2 that lost its space?
        return 0.0, 0
    return int(whole) + int(top) / bottom, at + 3


def _grouped(words: list[str], at: int) -> tuple[float, int]:
    """1 200 or 12 000.5: thousands set apart by spaces."""
    digits, at = words[at], at + 1
    if len(digits) > 3 or not digits.isdecimal() or digits[0] == "0":
        return 0.0, 0
    while starts_number(words[at]):
        whole, _, _ = words[at].partition(".")
        if len(whole) != 3 or "." in digits:
            return 0.0, 0
        digits, at = digits + words[at], at + 1
    value = float(digits)
    return (value, at) if value <= LARGEST else (0.0, 0)
