"""Every way a plumber writes a nominal size. The name is all there is to it."""

from __future__ import annotations

import pytest

from plancheck.measures import MeasureError, Size, read_size, read_sizes

SAME_NAME = {
    "1/4": ("1/4", "¼", '1/4"', 0.25, "0.25"),
    "3/8": ("3/8", "⅜", "3/8 in", 0.375, ".375"),
    "1/2": (
        "1/2",
        '1/2"',
        "1/2 in",
        "1/2 in.",
        "1/2-inch",
        "1/2-in",
        "1/2 inch",
        "1/2″",
        "1⁄2",
        "½",
        '½"',
        "0.5",
        0.5,
        " 1/2 ",
    ),
    "5/8": ("5/8", "⅝", 0.625),
    "3/4": ("3/4", "¾", '3/4"', "0.75", 0.75, "6/8"),
    "1": ("1", '1"', "1 in", "1.0", 1, 1.0),
    "1-1/4": ("1-1/4", "1 1/4", '1 1/4"', "1¼", "1 ¼ in", "1-1/4-inch", "1.25", 1.25),
    "1-1/2": ("1-1/2", "1½", 1.5),
    "2": ("2", 2),
    "2-1/2": ("2-1/2", 2.5),
    "3": ("3", 3),
    "4": ("4", 4),
}


@pytest.mark.parametrize(("name", "written"), [(n, w) for n, many in SAME_NAME.items() for w in many])
def test_inch_sizes(name: str, written: str | float) -> None:
    found = read_size(written)
    assert (found.name, found.metric) == (name, False)


def test_inch_sizes_are_in_order() -> None:
    ranks = [read_size(name).rank for name in SAME_NAME]
    assert ranks == sorted(set(ranks))
    assert read_size("1-1/4").rank == 1.25


@pytest.mark.parametrize(
    ("name", "written"),
    (
        ("16 mm", "16 mm"),
        ("16 mm", "16mm"),
        ("16 mm", "16\u00a0MM"),
        ("20 mm", "20 mm"),
        ("25 mm", "25 mm"),
        ("DN15", "DN15"),
        ("DN20", "DN20"),
        ("DN20", "dn 20"),
        ("DN20", "DN-20"),
        ("DN15", "15A"),
        ("DN20", "20 A"),
    ),
)
def test_metric_sizes(name: str, written: str) -> None:
    found = read_size(written)
    assert (found.name, found.metric) == (name, True)


def test_metric_sizes_are_in_order() -> None:
    for made in ((10, 12, 14, 15, 16, 17, 18, 20, 22, 25, 26, 28, 32, 35, 40, 42, 50, 54, 63),):
        ranks = [read_size(f"{mm} mm").rank for mm in made]
        assert ranks == sorted(set(ranks))
    ranks = [read_size(f"DN{dn}").rank for dn in (10, 15, 20, 25, 32, 40, 50, 65, 80, 100)]
    assert ranks == sorted(set(ranks))


def test_the_text_is_kept() -> None:
    assert read_size(' 1 1/4" ') == Size("1-1/4", '1 1/4"', 1.25)
    assert read_size(0.75) == Size("3/4", "3/4", 0.75)


def test_canonical_names_read_as_themselves() -> None:
    for name in (*SAME_NAME, "16 mm", "DN20"):
        assert read_size(name).name == name


@pytest.mark.parametrize(
    ("text", "names"),
    (
        ("3/4 x 3/4 x 1/2", ("3/4", "3/4", "1/2")),
        ("3/4x3/4x1/2", ("3/4", "3/4", "1/2")),
        ('1" × 3/4"', ("1", "3/4")),
        ("20 mm X 16 mm", ("20 mm", "16 mm")),
        (1, ("1",)),
        ("1/2", ("1/2",)),
    ),
)
def test_sizes_of_a_fitting(text: str | int, names: tuple[str, ...]) -> None:
    assert tuple(size.name for size in read_sizes(text)) == names


@pytest.mark.parametrize("text", ("3/4 x 7/8", "3/4 x", "x", "3/4 x x 1/2", ""))
def test_sizes_of_a_fitting_refused(text: str) -> None:
    with pytest.raises(MeasureError):
        read_sizes(text)


@pytest.mark.parametrize(
    ("written", "says", "mend"),
    (
        ("7/8", "nobody makes size '7/8'", "3/4 and 1"),
        ("1-1/8", "nobody makes", "1 and 1-1/4"),
        ("11/2", "has more than a whole in its fraction", "5-1/2, or 1-1/2?"),
        ("1/3", "has a fraction that is not taken", "5/16"),
        ("5", "nobody makes", "the nearest made: 4"),
        (16, "nobody makes size '16'", "16 mm"),
        ("19 mm", "nobody makes size '19 mm'", "18 mm and 20 mm; or write 3/4"),
        ("21 mm", "nobody makes", "20 mm and 22 mm"),
        ("DN18", "nobody makes", "DN15 and DN20"),
        ("14A", "nobody makes", "DN10 and DN15"),
        (0, "nobody makes size '0'", "1/4"),
        ("about 3/4", "is an estimate, but a size is a name", "write the name alone"),
        ("1/2 - 3/4", "can be read as a range", "1/2, or 3/4?"),
        ("3/4 x 1/2", "names several sizes", "write one"),
        ("3/4 PEX", "says more than a size", "write the name alone"),
        ("big", "has no number", "3/4"),
        ("", "nothing is written", "3/4"),
        ("-1/2", "cannot be read as a nominal size", "3/4"),
        ("16 cm", "says more than a size", "16 mm"),
        (True, "true or false is written here", "3/4"),
        (None, "nothing is written here", "3/4"),
        (float("nan"), "no number one can measure", "3/4"),
    ),
)
def test_refused(written: str | float, says: str, mend: str) -> None:
    with pytest.raises(MeasureError) as refused:
        read_size(written)
    assert says in refused.value.says
    assert mend in refused.value.mend
