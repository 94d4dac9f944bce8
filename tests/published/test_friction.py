"""Friction against Colebrook: a printed table of spots, a reference library over a sweep, and losses as printed."""

import math

import fluids
import pytest

from plancheck.hydraulics.laws import friction
from plancheck.hydraulics.loss import lines_of, loss_m
from plancheck.hydraulics.plain import Darcy, HazenWilliams

INCH, FOOT, GPM, PSI_M = 0.0254, 0.3048, 6.30902e-5, 0.70307

# Darcy's f by exact Colebrook, columns relative roughness 0, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2 (computed with a reference library,
# read)
SPOTS = {
    4e3: (0.03991, 0.03992, 0.04001, 0.04091, 0.04908, 0.07699),
    1e4: (0.03088, 0.03090, 0.03104, 0.03238, 0.04313, 0.07380),
    1e5: (0.01799, 0.01804, 0.01851, 0.02218, 0.03850, 0.07178),
    1e6: (0.01165, 0.01187, 0.01344, 0.01994, 0.03797, 0.07157),
    1e7: (0.00810, 0.00900, 0.01217, 0.01967, 0.03791, 0.07155),
    1e8: (0.00594, 0.00819, 0.01200, 0.01964, 0.03790, 0.07155),
}
ROUGH = (0.0, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2)


def factor(re: float, rough: float) -> float:
    return float(friction(re, 0.27 * rough, math.log)[0])


@pytest.mark.parametrize("re", SPOTS)
@pytest.mark.parametrize("column", range(len(ROUGH)))
def test_spots(re: float, column: int) -> None:
    exact = SPOTS[re][column]
    assert -0.010 <= factor(re, ROUGH[column]) / exact - 1 <= 0.035


@pytest.mark.parametrize("re", [10 ** (3.61 + 0.2 * step) for step in range(22)])
@pytest.mark.parametrize("rough", [0.0, 1e-6, 1e-4, 2e-3, 3e-2])
def test_against_the_library(re: float, rough: float) -> None:
    exact = fluids.friction.Colebrook(re, rough)
    assert -0.011 <= factor(re, rough) / exact - 1 <= 0.036
    if rough == 0.0 and 1e4 <= re <= 1e6:
        assert factor(re, rough) == pytest.approx(exact, rel=0.007)


@pytest.mark.parametrize("re", [1.0, 5.0, 50.0, 100.0, 500.0])
def test_laminar(re: float) -> None:
    """Hagen and Poiseuille: f = 64 / Re."""
    assert factor(re, 1e-4) == pytest.approx(64.0 / re, rel=1e-6)


@pytest.mark.parametrize("exponent", [0.5 + 0.25 * step for step in range(30)])
@pytest.mark.parametrize("rough", [0.0, 1e-3, 5e-2])
def test_the_slope_of_the_factor(exponent: float, rough: float) -> None:
    re = 10.0**exponent
    step = re * 1e-5
    slope = (factor(re + step, rough) - factor(re - step, rough)) / (2 * step)
    bend = re / factor(re, rough) * slope
    assert friction(re, 0.27 * rough, math.log)[1] == pytest.approx(bend, rel=2e-4, abs=1e-9)


@pytest.mark.parametrize("rough", [0.0, 1e-5, 1e-3, 5e-2])
def test_a_loss_that_always_rises(rough: float) -> None:
    bore, viscosity = 0.012, 1.12e-6
    law = Darcy(10.0, bore, 1.0, rough * bore, viscosity)
    last, before = -math.inf, -math.inf
    for step in range(801):
        flow = 10.0 ** (step / 100.0) * math.pi * bore * viscosity / 4.0
        loss, slope = lines_of(law, flow)
        assert loss > before
        assert slope > 0.0
        before = loss
        last = flow
    assert last > 0


@pytest.mark.parametrize("flow", [1e-7, 3e-6, 2e-5, 1e-4, 6e-4])
def test_the_slope_of_a_pipe_s_loss(flow: float) -> None:
    law = Darcy(7.0, 0.012, 3.0)
    step = flow * 1e-6
    slope = (loss_m(law, flow + step) - loss_m(law, flow - step)) / (2 * step)
    assert lines_of(law, flow)[1] == pytest.approx(slope, rel=1e-5)
    assert loss_m(law, -flow) == -loss_m(law, flow)


def test_half_inch_tube_at_four_gallons() -> None:
    """A trade magazine, March 2002 (read): 0.208 psi/ft; that is Hazen and Williams, C 150, bore 0.475 in. Darcy at 60 degF
    gives 0.224 (Colebrook). The 8 ft/s printed beside it is wrong: 7.24."""
    bore, flow = 0.475 * INCH, 4 * GPM
    hazen = loss_m(HazenWilliams(FOOT, bore, 150.0), flow) / PSI_M
    assert hazen == pytest.approx(0.208, abs=0.0015)
    assert loss_m(Darcy(FOOT, bore), flow) / PSI_M == pytest.approx(0.224, rel=0.01)
    assert flow / (math.pi / 4 * bore**2) / FOOT == pytest.approx(7.24, abs=0.01)


# psi per 100 ft of PEX SDR 9 by exact Colebrook, 1.5e-6 m, average bores: bore in, gpm, at 60, 120, 140 degF (computed, read)
PEX = [
    (0.350, 2.0, 28.4, 24.0, 23.0),
    (0.475, 1.0, 1.99, 1.64, 1.56),
    (0.475, 3.0, 13.5, 11.4, 10.9),
    (0.475, 6.0, 46.0, 39.5, 38.0),
    (0.671, 5.0, 6.38, 5.40, 5.18),
    (0.671, 10.0, 21.8, 18.7, 18.0),
    (0.862, 3.0, 0.79, 0.66, 0.63),
    (0.862, 12.0, 9.08, 7.78, 7.47),
]


@pytest.mark.parametrize("row", PEX)
def test_pex(row: tuple[float, ...]) -> None:
    bore, gpm, *printed = row
    for viscosity, psi in zip((1.12e-6, 0.564e-6, 0.4745e-6), printed, strict=True):
        law = Darcy(100 * FOOT, bore * INCH, viscosity_m2_s=viscosity)
        assert loss_m(law, gpm * GPM) / PSI_M == pytest.approx(
            psi, rel=0.025
        )  # Churchill for Colebrook, and three printed digits


# 77 Ill. Adm. Code 890 Appendix A Table N (read): gpm, bore of type L in, psi per 100 ft, ft/s; C 125 within 10 percent
TABLE_N = [
    (3, 0.545, 8.7, 4.2),
    (8, 0.785, 9.0, 5.4),
    (14, 1.025, 7.2, 5.6),
    (25, 1.265, 7.0, 6.3),
    (35, 1.505, 6.2, 6.4),
    (57, 1.985, 3.6, 5.8),
]


@pytest.mark.parametrize("row", TABLE_N)
def test_a_state_s_table_of_copper(row: tuple[float, ...]) -> None:
    gpm, bore, psi, fps = row
    law = HazenWilliams(100 * FOOT, bore * INCH, 125.0)
    assert loss_m(law, gpm * GPM) / PSI_M == pytest.approx(psi, rel=0.10)
    assert gpm * GPM / (math.pi / 4 * (bore * INCH) ** 2) / FOOT == pytest.approx(fps, rel=0.05)
