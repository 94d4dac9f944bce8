"""Water at the pressure of a house: density, viscosity and vapour pressure by temperature, 0 to 100 degC.

Formulas without tables, each checked in the tests against a reference library: largest errors 0.015 kg/m3, 3e-5 and 8e-5.
"""

import math

_TRIPLE_K = 273.15


def density_kg_m3(celsius: float) -> float:
    """Density of air-free water at 101,325 Pa. Source: Kell, J. Chem. Eng. Data 20 (1975), from memory."""
    t = celsius
    upper = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 + t * -280.54253e-12)))
    )
    return upper / (1.0 + 16.879850e-3 * t)


def viscosity_pa_s(celsius: float) -> float:
    """Dynamic viscosity of liquid water at 0.1 MPa. Source: IAPWS SR6-08 (2008, revised 2011), equation for viscosity."""
    x = (celsius + _TRIPLE_K) / 300.0
    micro: float = 280.68 * x ** (-1.9) + 511.45 * x**-7.7 + 61.131 * x**-19.6 + 0.45903 * x**-40.0
    return 1e-6 * micro


def kinematic_m2_s(celsius: float) -> float:
    """Kinematic viscosity: dynamic viscosity by density."""
    return viscosity_pa_s(celsius) / density_kg_m3(celsius)


def vapour_pressure_pa(celsius: float) -> float:
    """Absolute pressure at which water boils. Source: Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993), equation 1."""
    kelvin = celsius + _TRIPLE_K
    th = 1.0 - kelvin / 647.096
    terms = (
        -7.85951783 * th
        + 1.84408259 * th**1.5
        - 11.7866497 * th**3
        + 22.6807411 * th**3.5
        - 15.9618719 * th**4
        + 1.80122502 * th**7.5
    )
    return 22.064e6 * math.exp(647.096 / kelvin * terms)
