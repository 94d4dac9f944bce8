"""The writing of SVG: well-formed whatever a plan says, boxes and lines that meet where they do."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from plancheck.drawing.letters import box_of, shortened, width, wrapped
from plancheck.drawing.svg import Box, Segment, crosses, element, escape, overlaps, whole, words

SVG = "{http://www.w3.org/2000/svg}"


@given(st.text(), st.text())
def test_any_text_stands_in_the_picture_as_text(name: str, value: str) -> None:
    picture = whole("a", name, value, 10, 10, [words(1, 1, name), element("g", class_=value)])
    root = ET.fromstring(picture)
    assert [one.tag for one in root.iter()] == [SVG + tag for tag in ("svg", "title", "desc", "text", "g")]


def test_control_and_direction_marks_are_visible() -> None:
    assert escape("a\x07\u202e<b>") == "a\\x07\\u202E&lt;b&gt;"


def test_boxes_that_only_touch_do_not_overlap() -> None:
    box = Box(0, 0, 10, 10)
    assert overlaps(box, Box(9, 9, 20, 20))
    assert not overlaps(box, Box(10, 0, 20, 10))


def test_lines_through_beside_and_along_a_box() -> None:
    box = Box(0, 0, 10, 10)
    assert crosses(box, Segment(-5, 5, 15, 5))
    assert crosses(box, Segment(4, 4, 5, 5))  # wholly inside
    assert crosses(box, Segment(-1, 3, 3, -1))  # over a corner
    assert not crosses(box, Segment(-1, 1, 1, -1))  # touches the corner alone
    assert not crosses(box, Segment(0, -5, 0, 15))  # along a side
    assert not crosses(box, Segment(20, 0, 30, 10))


def test_widths_are_those_of_the_printed_metrics() -> None:
    # Adobe's metrics of Helvetica (from memory): digits 556, space 278, W 944, i 222 thousandths
    assert round(width("10 Wi", 1000)) == 556 + 556 + 278 + 944 + 222
    assert round(box_of(0, 0, "1000", 10, "middle").left, 6) == -11.12


@given(st.text(), st.floats(5, 80))
def test_what_is_shortened_fits(text: str, most: float) -> None:
    assert width(shortened(text, 3.0, most), 3.0) <= most
    assert all(width(line, 3.0) <= most for line in wrapped(text, 3.0, most))
