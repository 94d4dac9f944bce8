"""Outside diameters and bores of tube against printed tables of dimensions and volumes; read or from memory as noted."""

from __future__ import annotations

import math

import pytest

from plancheck.measures import read_length, read_size
from plancheck.model import Run, Tube
from plancheck.rulekit import tube_bore_m, tube_outside_m
from plancheck.tubedata import SOURCES, narrowed_by_rust

IN = 0.0254
GALLON_M3 = 231 * IN**3

# ASTM F876 SDR 9: outside and least wall to 1 in read (a retailer's sheet in a county record), larger sizes and the wall
# tolerances from memory; the bore is outside less two least walls less one tolerance
PEX = [
    ("3/8", 0.500, 0.350),
    ("1/2", 0.625, 0.475),
    ("5/8", 0.750, 0.574),
    ("3/4", 0.875, 0.671),
    ("1", 1.125, 0.862),
    ("1-1/4", 1.375, 1.054),
    ("1-1/2", 1.625, 1.244),
    ("2", 2.125, 1.629),
]
# the same sheet's volumes, gallons in 100 ft (read)
PEX_GALLONS = [("3/8", 0.50), ("1/2", 0.92), ("5/8", 1.34), ("3/4", 1.83), ("1", 3.03)]
# ASTM B88 (K and L read; M bores read in a table of copper sizes, 5/8 M from memory): outside, bores of K, L and M
COPPER = [
    ("3/8", 0.500, 0.402, 0.430, 0.450),
    ("1/2", 0.625, 0.527, 0.545, 0.569),
    ("5/8", 0.750, 0.652, 0.666, 0.690),
    ("3/4", 0.875, 0.745, 0.785, 0.811),
    ("1", 1.125, 0.995, 1.025, 1.055),
    ("1-1/4", 1.375, 1.245, 1.265, 1.291),
    ("1-1/2", 1.625, 1.481, 1.505, 1.527),
    ("2", 2.125, 1.959, 1.985, 2.009),
]
# ASTM D2846 SDR 11 (makers' tables, read): outside, bore at the least wall, wall tolerance
CPVC = [
    ("1/2", 0.625, 0.489, 0.020),
    ("3/4", 0.875, 0.715, 0.020),
    ("1", 1.125, 0.921, 0.020),
    ("1-1/4", 1.375, 1.125, 0.020),
    ("1-1/2", 1.625, 1.329, 0.020),
    ("2", 2.125, 1.739, 0.023),
]
# ASME B36.10 and ASTM A53, schedule 40 (from memory): outside, bore
STEEL = [
    ("1/4", 0.540, 0.364),
    ("3/8", 0.675, 0.493),
    ("1/2", 0.840, 0.622),
    ("3/4", 1.050, 0.824),
    ("1", 1.315, 1.049),
    ("1-1/4", 1.660, 1.380),
    ("1-1/2", 1.900, 1.610),
    ("2", 2.375, 2.067),
    ("2-1/2", 2.875, 2.469),
    ("3", 3.500, 3.068),
]
# ASTM F1281 (from memory): millimetres outside
PEX_AL = [("3/8", 12), ("1/2", 16), ("5/8", 20), ("3/4", 25), ("1", 32)]


def tube(material: str, size: str, **more: object) -> Tube:
    return Tube("x", material, size=read_size(size), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("material", ["PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT"])
@pytest.mark.parametrize(("size", "outside", "bore"), PEX)
def test_pex(material: str, size: str, outside: float, bore: float) -> None:
    assert tube_outside_m(tube(material, size)) == pytest.approx(outside * IN, abs=1e-9)
    assert tube_bore_m(tube(material, size)) == pytest.approx(bore * IN, abs=1e-9)


@pytest.mark.parametrize(("size", "gallons"), PEX_GALLONS)
def test_pex_holds_the_printed_gallons(size: str, gallons: float) -> None:
    """To one in the last printed place; the least wall alone would give 3 to 6 parts in a hundred more."""
    bore = tube_bore_m(tube("PEX-B", size))
    assert bore is not None
    assert math.pi / 4 * bore**2 * 100 * 12 * IN / GALLON_M3 == pytest.approx(gallons, abs=0.01)


@pytest.mark.parametrize(("size", "outside", "thick", "middle", "thin"), COPPER)
def test_copper(size: str, outside: float, thick: float, middle: float, thin: float) -> None:
    assert tube_outside_m(tube("copper", size)) == pytest.approx(outside * IN, abs=1e-9)
    for letter, bore in (("K", thick), ("L", middle), ("M", thin)):
        assert tube_bore_m(tube("copper", size, type=letter)) == pytest.approx(bore * IN, abs=1e-9)


@pytest.mark.parametrize(("size", "outside", "widest", "tolerance"), CPVC)
def test_cpvc(size: str, outside: float, widest: float, tolerance: float) -> None:
    assert tube_outside_m(tube("CPVC", size)) == pytest.approx(outside * IN, abs=1e-9)
    assert tube_bore_m(tube("CPVC", size)) == pytest.approx((widest - tolerance) * IN, abs=1e-9)


@pytest.mark.parametrize(("size", "outside", "bore"), STEEL)
def test_galvanised_steel_is_of_schedule_40(size: str, outside: float, bore: float) -> None:
    assert tube_outside_m(tube("galvanised steel", size)) == pytest.approx(outside * IN, abs=1e-9)
    for said in (None, "schedule 40", "Sch 40"):
        assert tube_bore_m(tube("galvanised steel", size, type=said)) == pytest.approx(bore * IN, abs=1e-9)


def test_rust_narrows_old_steel_and_nothing_else() -> None:
    old, new = Run("service", work="existing"), Run("service")
    steel = tube("galvanised steel", "3/4")
    assert "rust" in narrowed_by_rust(old, steel)
    assert narrowed_by_rust(new, steel) == ""
    assert narrowed_by_rust(old, tube("copper", "3/4", type="L")) == ""
    assert narrowed_by_rust(old, tube("galvanised steel", "3/4", wall=read_length("5 mm"))) == "", "it was measured"


@pytest.mark.parametrize(("size", "mm"), PEX_AL)
def test_pex_al_pex_is_not_of_copper_size(size: str, mm: float) -> None:
    assert tube_outside_m(tube("PEX-AL-PEX", size)) == pytest.approx(mm / 1000)


@pytest.mark.parametrize(("size", "mm"), [("16 mm", 16), ("20 mm", 20), ("25 mm", 25), ("32 mm", 32)])
@pytest.mark.parametrize("material", ["PEX-A", "PEX-AL-PEX", "copper"])
def test_a_name_in_millimetres_is_the_outside(material: str, size: str, mm: float) -> None:
    """ISO 4065 for plastics, EN 1057 for copper (from memory): metric tube is named by its outside diameter."""
    assert tube_outside_m(tube(material, size)) == pytest.approx(mm / 1000)


def test_a_metric_tube_says_its_wall() -> None:
    """16 x 2.2 mm, as tube is sold: 11.6 mm of bore."""
    assert tube_bore_m(tube("PEX-A", "16 mm")) is None
    assert tube_bore_m(tube("PEX-A", "16 mm", wall=read_length("2.2 mm"))) == pytest.approx(0.0116)


def test_what_the_plan_states_counts() -> None:
    stated = tube("PEX-A", "1/2", outside=read_length("17 mm"))
    assert tube_outside_m(stated) == pytest.approx(0.017)
    assert tube_bore_m(stated) is None, "the wall of another tube is not known"
    as_named = tube("PEX-A", "1/2", outside=read_length("5/8 in"))
    assert tube_bore_m(as_named) == pytest.approx(0.475 * IN)


@pytest.mark.parametrize(
    "unknown",
    [
        tube("PE", "3/4"),
        tube("PVC", "1"),
        tube("galvanised steel", "5/8"),
        tube("stainless steel", "3/4"),
        tube("copper", "DN15"),
        tube("not known", "1/2"),
        Tube("x", "PEX-A"),
        Tube("x", None, size=read_size("1/2")),
    ],
)
def test_what_does_not_follow_from_the_name_is_not_known(unknown: Tube) -> None:
    assert tube_outside_m(unknown) is None
    assert tube_bore_m(unknown) is None


@pytest.mark.parametrize(
    "unknown",
    [
        tube("copper", "3/4"),
        tube("copper", "3/4", type="DWV"),
        tube("PEX-B", "3/4", type="SDR 11"),
        tube("PEX-B", "2-1/2"),
        tube("galvanised steel", "3/4", type="schedule 80"),
        tube("PEX-AL-PEX", "1/2"),
    ],
)
def test_a_bore_that_no_table_gives_is_not_known(unknown: Tube) -> None:
    assert tube_outside_m(unknown) is not None
    assert tube_bore_m(unknown) is None


def test_every_table_has_its_source() -> None:
    assert {source.read for source in SOURCES.values()} == {"read", "from memory"}
    assert all(source.document for source in SOURCES.values())
