"""What a tube's print line and colour tell. The marks are those on print lines of tube as sold, typed in by hand."""

from __future__ import annotations

import pytest

from plancheck.colours import colour_fault, heating_tube, is_potable, other_water, print_line
from plancheck.model import Tube

POTABLE = [
    ("NSF-pw",),
    ("NSF pw",),
    ("nsf-PW",),
    ("NSF 61",),
    ("NSF/ANSI 61",),
    ("NSF/ANSI/CAN 61",),
    ("NSF 14", "PW"),
    ("PEX 5306", "ASTM F876", "NSF-pw"),
    ("cNSFus-pw",),
    ("cNSFus-pw-G",),
    ("NSF Standard 61",),
    ("NSF/ANSI Standard 61",),
    ("NSF 61-G",),
    ("ANSI/NSF-pw",),
    ("NSF-pw(CL5)",),
    ("NSF-pw-rfh",),
    ("PEX 5306 NSF-pw-CL-R-TD SDR 9 100 psi 180 degF",),
]
NOT_POTABLE = [(), ("NSF-rfh",), ("NSF 14",), ("ASTM F876", "ASTM F877"), ("PEX 0006", "DIN 4726"), ("oxygen barrier",)]
NOT_POTABLE += [
    ("NSF",),
    ("NSF U.P. Code",),
    ("UPC",),
    ("PW",),
    ("NSF 14", "SDR 9", "61 psi"),
    ("NSF 610",),
    ("potable",),
]


@pytest.mark.parametrize("marks", POTABLE)
def test_marks_for_drinking_water(marks: tuple[str, ...]) -> None:
    assert is_potable(Tube("t", print=marks))


@pytest.mark.parametrize("marks", NOT_POTABLE)
def test_no_mark_for_drinking_water(marks: tuple[str, ...]) -> None:
    assert not is_potable(Tube("t", print=marks))


@pytest.mark.parametrize("said", [None, "not known", "none"])
def test_a_print_line_that_is_not_stated_is_empty(said: str | None) -> None:
    assert print_line(Tube("t", print=said)) == ""


@pytest.mark.parametrize(
    ("marks", "water"),
    [
        (("NON-POTABLE",), "denied"),
        (("NSF-pw", "Non Potable"), "denied"),
        (("not for potable water",), "denied"),
        (("RADIANT HEAT ONLY",), "denied"),
        (("Radiant only",), "denied"),
        (("heating only",), "denied"),
        (("RECLAIMED WATER",), "reclaimed"),
        (("CAUTION: RECLAIMED WATER - DO NOT DRINK",), "reclaimed"),
        (("do not drink",), "denied"),
        (("NSF-pw", "radiant heating / plumbing"), None),
        (("NSF-pw", "potable"), None),
        (None, None),
        ("none", None),
    ],
)
def test_a_print_that_names_another_water(marks: tuple[str, ...] | str | None, water: str | None) -> None:
    assert other_water(Tube("t", print=marks)) == water
    for colour in ("blue", "white", "red", "black", None):
        fault = colour_fault(Tube("t", colour=colour, print=marks), "cold")
        assert (fault == water) if water is not None else (fault not in ("denied", "reclaimed"))


def test_marks_stay_apart_in_the_print_line() -> None:
    assert print_line(Tube("t", print=("NSF 6", "1/2 in"))) == "nsf6,12in"
    assert not is_potable(Tube("t", print=("NSF 6", "1/2 in")))


@pytest.mark.parametrize(
    ("colour", "marks", "words"),
    [
        ("red", ("EVOH",), "oxygen-barrier"),
        ("white", ("DIN 4726",), "oxygen-barrier"),
        ("red", ("NSF-rfh",), "by its mark"),
        ("orange", ("ASTM F876",), "orange"),
        ("orange", None, "orange"),
    ],
)
def test_what_makes_it_heating_tube(colour: str, marks: tuple[str, ...] | None, words: str) -> None:
    assert words in (heating_tube(Tube("t", colour=colour, print=marks)) or "")


def test_plain_tube_is_no_heating_tube() -> None:
    assert heating_tube(Tube("t", colour="red", print=("NSF-pw",))) is None


@pytest.mark.parametrize(
    ("colour", "water", "fault"),
    [
        ("blue", "cold", None),
        ("blue", "hot", "habit"),
        ("blue", "hot return", "habit"),
        ("blue", "mixed", None),
        ("red", "cold", "habit"),
        ("red", "hot", None),
        ("red", "hot return", None),
        ("red", "mixed", None),
        ("white", "cold", None),
        ("white", "hot", None),
        ("natural", "hot return", None),
        ("grey", "cold", "unread"),
        ("black", "hot", "unread"),
        ("purple", "cold", "purple"),
        ("purple", "not potable", None),
        ("green", "not potable", "drinking colour"),
        ("orange", "cold", "unread"),
        ("orange", "not potable", None),
    ],
)
def test_a_colour_against_the_water(colour: str, water: str, fault: str | None) -> None:
    assert colour_fault(Tube("t", colour=colour), water) == fault
