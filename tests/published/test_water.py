"""Properties of water against published check values and against a reference library (chemicals: IAPWS-95, IAPWS 2008)."""

import pytest
from chemicals import iapws95_Psat, iapws95_rho, iapws95_rhol_sat, mu_IAPWS

from plancheck.hydraulics.water import density_kg_m3, kinematic_m2_s, vapour_pressure_pa, viscosity_pa_s

# degC, kg/m3, mPa s, 1e-6 m2/s, Pa; made with IAPWS-95 and the IAPWS 2008 viscosity at 101,325 Pa, read
ROWS = [
    (5.0, 999.967, 1.5182, 1.5182, 872.58),
    (10.0, 999.702, 1.3059, 1.3063, 1228.2),
    (20.0, 998.207, 1.00160, 1.00340, 2339.3),
    (40.0, 992.216, 0.65273, 0.65785, 7384.9),
    (50.0, 988.035, 0.54652, 0.55313, 12351.9),
    (60.0, 983.196, 0.46604, 0.47400, 19946.4),
    (80.0, 971.790, 0.35405, 0.36433, 47414.5),
]


@pytest.mark.parametrize("row", ROWS)
def test_rows(row: tuple[float, ...]) -> None:
    celsius, density, viscosity, kinematic, vapour = row
    assert density_kg_m3(celsius) == pytest.approx(density, abs=0.015)
    assert viscosity_pa_s(celsius) * 1e3 == pytest.approx(viscosity, rel=6e-5)
    assert kinematic_m2_s(celsius) * 1e6 == pytest.approx(kinematic, rel=1e-4)
    assert vapour_pressure_pa(celsius) == pytest.approx(vapour, rel=1e-4)


@pytest.mark.parametrize("celsius", range(1, 100, 7))
def test_against_the_reference_library(celsius: int) -> None:
    kelvin = celsius + 273.15
    density = iapws95_rho(kelvin, 101325.0)
    assert density_kg_m3(celsius) == pytest.approx(density, abs=0.015)
    assert viscosity_pa_s(celsius) == pytest.approx(mu_IAPWS(kelvin, density), rel=3.1e-5)
    assert vapour_pressure_pa(celsius) == pytest.approx(iapws95_Psat(kelvin), rel=8e-5)


def test_official_check_value() -> None:
    """IAPWS SR6-08: 997.047 kg/m3 and 889.7 microPa s near 298.15 K (R12-08 check: 889.7351 at 998 kg/m3), read."""
    assert density_kg_m3(25.0) == pytest.approx(997.047, abs=0.005)
    assert viscosity_pa_s(25.0) * 1e6 == pytest.approx(890.02, rel=5e-5)
    assert iapws95_rhol_sat(298.15) == pytest.approx(density_kg_m3(25.0), abs=0.06)  # saturated, not at 1 atm
