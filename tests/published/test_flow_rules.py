"""The rules on flow beside figures reckoned another way: Colebrook's friction, tables of losses, speeds, printed limits."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from plancheck.check import facts_of
from plancheck.demand.servicetable import cell_of, most_units
from plancheck.engine import Judged
from plancheck.flow.losses import METERS, fitting_k
from plancheck.flow.required import ROWS
from plancheck.reading import read_bytes
from plancheck.report.assemble import pointer
from tests.casework import TODAY, judge, plan_of

IN, FT, GPM, PSI = 0.0254, 0.3048, 6.30901964e-5, 6894.757293168
RHO, NU_60F = 999.0, 1.12e-6  # kg/m3 and m2/s at 60 degF (standard tables, from memory)


def colebrook_psi(gpm: float, feet: float, bore_in: float, k: float = 0.0, nu: float = NU_60F) -> float:
    """Loss of a pipe by Colebrook and White, solved by repetition, roughness of drawn tube 1.5e-6 m (a public table, read)."""
    bore = bore_in * IN
    speed = gpm * GPM / (math.pi / 4 * bore**2)
    root = 6.0
    for _ in range(80):
        root = -2 * math.log10(1.5e-6 / bore / 3.7 + 2.51 * root / (speed * bore / nu))
    return float((feet * FT / bore / root**2 + k) * RHO * speed**2 / 2 / PSI)


def answer(rule: str, at: str, base: str, **change: Any) -> Judged:
    """One answer of a rule on a case's base plan. change: path, / written as two underscores."""
    plan = plan_of({"base": base, "change": {path.replace("__", "/"): value for path, value in change.items()}})
    return next(one for one in judge(plan, rule) if pointer(one.subject.path) == at)


def figure(one: Judged) -> float:
    assert one.outcome.measured is not None
    return float(one.outcome.measured.value)


# K of an opened tube's tee branch 3.2 (tests at 8 ft/s, read), of half a coupling 0.03, of a full ball valve 0.1.
@pytest.mark.parametrize(("gpm", "style"), [(3.0, "close coupled"), (6.0, "one piece"), (1.6, "flushometer tank")])
def test_pressure_left_alone_is_that_of_colebrook(gpm: float, style: str) -> None:
    lost = colebrook_psi(gpm, 10, 0.671, 0.13) + colebrook_psi(gpm, 100, 0.475, 3.23)
    one = answer("outlet_capacity", "/parts/wc", "plainflow", parts__wc__style=style, water__static="90 psi")
    assert figure(one) / PSI == pytest.approx(90 - lost, abs=0.01 * lost)


def test_psi_per_100_ft_of_half_inch_tube() -> None:
    """13.5 psi at 3 gpm and 60 degF (reference table by Colebrook)."""
    assert colebrook_psi(3, 100, 0.475) == pytest.approx(13.5, abs=0.05)


def test_height_takes_0_433_psi_a_foot() -> None:
    """IRC and IPC Appendix: 0.433 psi for each foot (read)."""
    low = figure(answer("outlet_capacity", "/parts/hose", "plainflow"))
    high = figure(answer("outlet_capacity", "/parts/hose", "plainflow", places__bath__level="10 ft"))
    assert (low - high) / PSI == pytest.approx(4.33, abs=0.01)


@pytest.mark.parametrize(
    ("static", "outcome", "severity"),
    [("34.4 psi", "holds", None), ("33.9 psi", "broken", "advice"), ("32.4 psi", "broken", "correction")],
)
def test_20_0_holds_19_5_is_close_18_0_is_short(static: str, outcome: str, severity: str | None) -> None:
    """The grey zone is the larger of 1 psi and a tenth of what the flow costs, here 1.44 psi."""
    one = answer("outlet_capacity", "/parts/wc", "plainflow", water__static=static)
    assert (one.outcome.kind, one.outcome.severity) == (outcome, severity)
    assert figure(one) / PSI == pytest.approx(float(static[:4]) - 14.4, abs=0.06)


@pytest.mark.parametrize(
    ("row", "gpm", "psi"),
    [
        ("bathtub", 4.0, 20.0),
        ("shower", 2.5, 20.0),
        ("lavatory", 0.8, 8.0),
        ("sink", 1.75, 8.0),
        ("dishwasher", 2.75, 8.0),
        ("laundry tray", 4.0, 8.0),
        ("hose outlet", 5.0, 8.0),
        ("bidet", 2.0, 20.0),
        ("close coupled", 3.0, 20.0),
        ("one piece", 6.0, 20.0),
        ("flushometer tank", 1.6, 20.0),
    ],
)
def test_rows_of_outlets(row: str, gpm: float, psi: float) -> None:
    """IRC P2903.1 and IPC 604.3 (read)."""
    assert ROWS[row].flow_m3s / GPM == pytest.approx(gpm, rel=1e-6)
    assert ROWS[row].pressure_pa / PSI == pytest.approx(psi, rel=1e-6)


@pytest.mark.parametrize(
    ("gpm", "tube", "bore_in"),
    [
        (7.54, {"material": "copper", "type": "L", "size": "3/4"}, 0.785),
        (4.0, {"material": "PEX-B", "size": "1/2"}, 0.475),
        (8.0, {"material": "PEX-B", "size": "3/4"}, 0.671),
        (2.0, {"material": "copper", "type": "L", "size": "1/2"}, 0.545),
    ],
)
def test_speed_is_flow_by_average_bore(gpm: float, tube: dict[str, str], bore_in: float) -> None:
    """v ft/s = 0.4085 Q/d2 (read); bores of ASTM B88 type L and F876 average (tables, from memory)."""
    one = answer("water_speed", "/runs/hot", "onerun", tubes__tube=tube, parts__far__draw=f"{gpm} gpm")
    assert figure(one) / FT == pytest.approx(0.4085 * gpm / bore_in**2, rel=5e-4)


UPC = [  # UPC 610.4 (read), 46 to 60 psi unless said; fixture units at 40, 60, 80, 100, 150, 200 ft
    (35, 0.75, 0.75, (16, 16, 14, 12, 9, 6)),
    (50, 0.75, 0.5, (7, 7, 6, 5, 4, 3)),
    (50, 0.75, 0.75, (20, 20, 19, 17, 14, 11)),
    (50, 0.75, 1.0, (39, 39, 36, 33, 28, 23)),
    (50, 1.0, 1.25, (78, 78, 76, 67, 52, 44)),
    (70, 0.75, 0.75, (20, 20, 20, 20, 17, 13)),
    (70, 1.0, 1.0, (39, 39, 39, 39, 38, 32)),
]


@pytest.mark.parametrize(("psi", "meter", "pipe", "units"), UPC)
def test_table_of_services(psi: float, meter: float, pipe: float, units: tuple[int, ...]) -> None:
    for feet, wanted in zip((40, 60, 80, 100, 150, 200), units, strict=True):
        assert most_units(cell_of(psi * PSI, feet * FT), meter, pipe) == wanted


@pytest.mark.parametrize(("psi", "feet", "supply"), [(50, 100, 0.75), (50, 150, 1.0), (40, 80, 1.0), (70, 150, 0.75)])
def test_worked_look_up_of_16_5_units(psi: float, feet: float, supply: float) -> None:
    """A kitchen and two baths: 16.5 units; 3/4 in at 100 ft, 1 in at 150 ft ... (worked example, steps read)."""
    sizes = [size for size in (0.5, 0.75, 1.0) if most_units(cell_of(psi * PSI, feet * FT), 0.75, size) >= 16.5]
    assert sizes[0] == supply


@pytest.mark.parametrize(
    ("joint", "size", "bore_in", "wanted"),
    [
        ("copper crimp ring", "1/2", 0.475, (1.48, 1.82, 4.88, 5.22)),
        ("copper crimp ring", "3/4", 0.671, (0.85, 1.10, 3.42, 3.67)),
        ("expansion ring", "1/2", 0.475, (0.06, 0.18, None, 1.36)),
    ],
)
def test_k_of_fittings(joint: str, size: str, bore_in: float, wanted: tuple[float | None, ...]) -> None:
    """Contraction and expansion by bores 0.350, 0.530 and 0.455 in (reference table)."""
    for shape, k in zip(("coupling", "run", "branch", "ell"), wanted, strict=True):
        if k is not None:
            assert fitting_k(shape, joint, size, bore_in * IN, True) == pytest.approx(k, abs=0.012)


@pytest.mark.parametrize(("cv", "bore_in", "k"), [(15.3, 0.671, 0.77), (3.4, 0.475, 3.92), (4.0, 0.671, 11.3)])
def test_cv_as_k(cv: float, bore_in: float, k: float) -> None:
    """K = 891 d^4/Cv^2: Cv gpm at 1 psi is a loss of one psi. By dp = K rho v2/2, d in inches (reference, read)."""
    speed = cv * GPM / (math.pi / 4 * (bore_in * IN) ** 2)
    assert PSI / (RHO * speed**2 / 2) == pytest.approx(891 * bore_in**4 / cv**2, rel=2e-3)
    assert 891 * bore_in**4 / cv**2 == pytest.approx(k, rel=0.01)


def test_a_branch_of_a_tee_for_expanded_tube_is_6_ft_and_not_2_3() -> None:
    """NSF-run tests at 8 ft/s: outlets of multiport tees lose as 6.3 to 6.4 ft of tube (read); f 0.021 there."""
    k = fitting_k("branch", "expansion ring", "1/2", 0.475 * IN, True)
    assert k * 0.475 / 12 / 0.021 == pytest.approx(6.35, rel=0.1)


@pytest.mark.parametrize(("size", "gpm"), [("5/8", 20), ("3/4", 30), ("1", 50)])
def test_meters_at_their_safe_most(size: str, gpm: float) -> None:
    """AWWA C700 class: at most 15 psi at the safe most flow (from memory)."""
    assert METERS[size].r_pa(0.0) * (gpm * GPM) ** 2 / PSI == pytest.approx(15.0, rel=1e-6)


def test_a_mixing_valve_draws_by_the_energy_balance() -> None:
    """40 and 120 degF to 105: 0.8125 of hot (published fraction, read); so of 2.5 gpm 2.03 are hot."""
    plan = plan_of({"base": "swing", "change": {"water/coldest": "40 degF", "parts/heater/set": "120 degF"}})
    flow = facts_of(read_bytes(json.dumps(plan).encode(), "case"), TODAY).flow
    left = flow.alone(flow.house.fixtures["shower"], 2.5 * GPM)
    assert dict(left.draws)["shower/hot"] / GPM == pytest.approx(0.8125 * 2.5, rel=1e-6)
    assert dict(left.draws)["shower/cold"] / GPM == pytest.approx(0.1875 * 2.5, rel=1e-6)


def test_first_order_swing_of_a_shower() -> None:
    """dT = f (1 - f) (Th - Tc) d(psi cold) / (2 x psi over the valve): within a tenth for a small change."""
    one = answer("shower_swing", "/parts/shower/cold", "swing", runs__cold__length="12 ft")
    plan = plan_of({"base": "swing", "change": {"runs/cold/length": "12 ft"}})
    flow = facts_of(read_bytes(json.dumps(plan).encode(), "case"), TODAY).flow
    swing = flow.swings("shower")["cold"]
    assert swing.before is not None
    assert swing.after is not None
    share, psi_m = (105 - 50) / (125 - 50), 0.7030696
    apart = ((swing.before.cold_m - swing.after.cold_m) - (swing.before.hot_m - swing.after.hot_m)) / psi_m
    over = (swing.before.flow_m3s / GPM * share / 4.5) ** 2 * 45 / swing.before.share**2
    wanted = share * (1 - share) * 75 * apart / (2 * over)
    assert figure(one) * 1.8 == pytest.approx(wanted, rel=0.1)
