"""Laws of loss: head lost along an edge and its slope, for a flow.

Every law rises with the flow, so a network of them has one answer. Each function is one text that runs on floats (one
scenario) and on numpy arrays (many): the caller gives `log`, `larger` and `choose` for his kind of number.
Units: heads in metres of water, flows in m3/s, slopes in s/m2; a flow from b to a is negative.
"""

from collections.abc import Callable
from typing import Any

Tools = tuple[Callable[[Any], Any], Callable[[Any, Any], Any], Callable[[Any, Any, Any], Any]]

BACK = 1e12  # slope where a one-way edge is pushed backwards, s/m2: what leaks is under 1e-10 m3/s
_HELD = 1e3  # how much steeper a regulated outlet is beyond its most, so that it passes at most 0.1 percent more
_LAMINAR_RE = 1.0  # under this Reynolds number the law is the straight laminar line through nought


def friction(re: Any, relative: Any, log: Callable[[Any], Any]) -> tuple[Any, Any]:
    """Darcy's friction factor, laminar through turbulent, and its derivative by the Reynolds number.

    re: Reynolds number, at least 1; relative: 0.27 times roughness over bore.
    Source: S. W. Churchill, Friction-factor equation spans all fluid-flow regimes, Chemical Engineering 84 (1977), from
    memory; within -1 and +3.5 percent of Colebrook.
    """
    y = (7.0 / re) ** 0.9
    inner = y + relative
    a1 = -2.457 * log(inner)
    a2 = a1 * a1
    a4 = a2 * a2
    a8 = a4 * a4
    b1 = 37530.0 / re
    b2 = b1 * b1
    b4 = b2 * b2
    b8 = b4 * b4
    a, b = a8 * a8, b8 * b8
    both = a + b
    turbulent = 1.0 / (both * both**0.5)
    l1 = 8.0 / re
    l2 = l1 * l1
    l4 = l2 * l2
    laminar = l4 * l4 * l4
    total = laminar + turbulent
    factor = 8.0 * total ** (1.0 / 12.0)
    rise = 35.3808 * a * y / (a1 * inner) - 16.0 * b  # re times the derivative of both; 35.3808 = 16 x 2.457 x 0.9
    slope = factor / (12.0 * total * re) * (-12.0 * laminar - 1.5 * turbulent / both * rise)
    return factor, slope


def darcy(q: Any, r: Any, per: Any, relative: Any, k: Any, tools: Tools) -> tuple[Any, Any]:
    """A pipe. r: 8 L / (pi2 g D5); per: Reynolds number for each m3/s; k: sum of K times 8 / (pi2 g D4)."""
    log, larger, _ = tools
    size = abs(q)
    w = larger(size, _LAMINAR_RE / per)
    re = w * per
    factor, slope = friction(re, relative, log)
    f = factor * w
    return (r * f + k * size) * q, r * (2.0 * f + slope * re * w) + 2.0 * k * size


def power(q: Any, r: Any, n: Any, tools: Tools) -> tuple[Any, Any]:
    """Loss r times the flow to the power n, 1 < n <= 2."""
    w = tools[1](abs(q), 1e-12)
    steep = r * w ** (n - 1.0)
    return steep * q, n * steep


def quadratic(q: Any, r: Any, tools: Tools) -> tuple[Any, Any]:
    """Loss r times the square of the flow, either way."""
    steep = r * abs(q)
    return steep * q, 2.0 * steep


def linear(q: Any, r: Any, tools: Tools) -> tuple[Any, Any]:
    """Loss r times the flow."""
    return r * q, r + 0.0 * q


def outlet(q: Any, r: Any, most: Any, tools: Tools) -> tuple[Any, Any]:
    """Loss r times the square of the flow, one way only; from the flow `most` on it is held to about that flow."""
    choose = tools[2]
    steep = 2.0 * r * abs(q)
    held = 2.0 * _HELD * r * most
    loss = choose(q > most, r * most * most + held * (q - most), 0.5 * steep * q)
    slope = choose(q > most, held, steep)
    return choose(q < 0.0, BACK * q, loss), choose(q < 0.0, BACK, slope)
