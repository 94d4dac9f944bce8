"""A test that fell: Gay-Lussac's law for the air, the handbook's stretch for the tube."""

import pytest

from plancheck.flow.testdrop import fall_of

PSI = 6894.757293168


def test_air_that_cools_by_ten_degrees() -> None:
    """100 psi gauge at 70 degF and 60 degF: 114.7 x 519.67/529.67 = 112.53 psia, a fall of 2.17 psi."""
    fall = fall_of(100 * PSI, 97.8 * PSI, 900.0, "air", (70 - 32) / 1.8, (60 - 32) / 1.8)
    assert fall.by_temperature_pa == pytest.approx(2.1655 * PSI, rel=1e-3)
    assert fall.left_pa == 0.0


def test_stretch_of_the_first_hour_is_no_leak() -> None:
    """PPFA handbook, second hand: up to 8 psi in the first 60 min is the tube, more is a leak."""
    assert fall_of(100 * PSI, 92 * PSI, 3600.0, "air").left_pa == 0.0
    assert fall_of(100 * PSI, 90 * PSI, 3600.0, "air").left_pa == pytest.approx(2 * PSI)
    assert fall_of(100 * PSI, 90 * PSI, 7200.0, "air").left_pa == pytest.approx(2 * PSI)
    assert fall_of(100 * PSI, 97 * PSI, 900.0, "water").left_pa == pytest.approx(1 * PSI)


def test_water_is_not_corrected_for_temperature() -> None:
    assert fall_of(100 * PSI, 95 * PSI, 900.0, "water", 21.0, 10.0).by_temperature_pa is None
