"""What the print line of a tube names: standards, the class digits of PEX, ratings, however they are spelled. Pa, degC."""

from __future__ import annotations

from functools import cache

from plancheck.measures.units import PSI_PA
from plancheck.model import Tube

_LETTERS = ("f", "d")  # ASTM F876, D2846


def standards_of(tube: Tube) -> frozenset[str]:
    """The standards on the print line (F876, D2846, B137.5, ASSE 1061); empty where it is not known."""
    return standards_in(tube.print) if isinstance(tube.print, tuple) else frozenset()


@cache
def standards_in(marks: tuple[str, ...]) -> frozenset[str]:
    """The standards that the marks name: F1807/2159, ASTM F 1807 and ASTMF1807 are all read."""
    found: set[str] = set()
    for mark in marks:
        _read(_words(mark), found)
    return frozenset(found)


def _read(words: list[str], found: set[str]) -> None:
    series = ""  # what figures behind a stroke belong to: F1807/2159, F876/7
    for place, word in enumerate(words):
        before = words[place - 1] if place else ""
        name = word.removeprefix("astm").removeprefix("csa")
        if name[:1] in _LETTERS and name[1:].isdigit():
            series = name[0]
            found.add(name.upper())
        elif name.startswith("asse") and name[4:].isdigit():
            found.add(f"ASSE {name[4:]}")
        elif name.isdigit() and before in (*_LETTERS, "asse"):
            series = before if before != "asse" else "asse "
            found.add(f"{series}{name}".upper())
        elif name.isdigit() and before in ("b137", "csab137"):
            found.add(f"B137.{name}")
        elif name.isdigit() and before == "/" and series:
            found.add("F877" if name == "7" else f"{series}{name}".upper())


def class_digits(tube: Tube) -> str | None:
    """The four digits behind PEX on the print line (5306): chlorine, daylight, strength; None where they are not there."""
    return _digits(tube.print) if isinstance(tube.print, tuple) else None


@cache
def _digits(marks: tuple[str, ...]) -> str | None:
    words = [word for mark in marks for word in _words(mark)]
    for place, word in enumerate(words):
        if not word.startswith("pex"):
            continue
        own = word[3:].lstrip("abc")
        rest = [own] if own else [one for one in words[place + 1 : place + 3] if one not in ("a", "b", "c")]
        if rest and len(rest[0]) == 4 and rest[0].isdigit():
            return rest[0]
    return None


@cache
def ratings_in(marks: tuple[str, ...]) -> tuple[tuple[float, float], ...]:
    """Ratings such as 160 psi @ 73 F among the marks, as degC and Pa, coldest first."""
    found = []
    for mark in marks:
        words = mark.lower().replace("@", " ").replace("psi", " psi ").replace("deg", " ").replace("f", " f ").split()
        for at, word in enumerate(words):
            numbers = [one for one in words[at + 1 : at + 4] if _is_number(one)]
            if word == "psi" and at and _is_number(words[at - 1]) and numbers and "f" in words[at + 1 :]:
                found.append(((float(numbers[0]) - 32) / 1.8, float(words[at - 1]) * PSI_PA))
    return tuple(sorted(found))


def _is_number(word: str) -> bool:
    return word.replace(".", "", 1).isdigit()


def _words(text: str) -> list[str]:
    """Its words in small letters; a stroke is a word of its own."""
    return "".join(letter if letter.isalnum() else " / " if letter == "/" else " " for letter in text.lower()).split()
