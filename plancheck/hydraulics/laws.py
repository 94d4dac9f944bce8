"""Laws of loss: head lost along an edge and its slope, for a flow.

Every law rises with the flow, so a network of them has one answer. Each function is one text that runs on floats (one
scenario) and on numpy arrays (many): the caller gives `log`, `larger` and `choose` for his kind of number.
Units: heads in metres of water, flows in m3/s, slopes in s/m2; a flow from b to a is negative.
"""

from collections.abc import Callable
from typing import Any

Tools = tuple[Callable[[Any], Any], Callable[[Any, Any], Any], Callable[[Any, Any, Any], Any]]

BACK = 1e12  # slope where a one-way edge is pushed backwards, s/m2: what leaks is under 1e-10 m3/s
SEALED = 1e15  # that of an outlet: behind a closed check valve, heads follow the supply's side and not the open air's
_HELD = 1e4  # how much steeper a regulated outlet is beyond its most, so that it passes at most 0.1 percent more
_TWELFTH = 1.0 / 12.0
_LAMINAR_RE = 1.0  # under this Reynolds number the law is the straight laminar line through nought


def friction(re: Any, relative: Any, log: Callable[[Any], Any]) -> tuple[Any, Any]:
    """Darcy's friction factor f, laminar through turbulent, and its bend: Re/f times the derivative of f by Re.

    re: Reynolds number, at least 1; relative: 0.27 times roughness over bore. Under Re 100 it is 64/Re to the last figure.
    Source: S. W. Churchill, Friction-factor equation spans all fluid-flow regimes, Chemical Engineering 84 (1977), from
    memory; within -1 and +3.5 percent of Colebrook.
    """
    y = (7.0 / re) ** 0.9
    inner = y + relative
    root = -2.457 * log(inner)
    a = root * root  # squared in place four times: a power of 16 costs arrays ten times as much
    a *= a
    a *= a
    a *= a
    b = 37530.0 / re
    b *= b
    b *= b
    b *= b
    b *= b
    both = a + b
    turbulent = 1.0 / (both * both**0.5)
    laminar = 8.0 / re
    laminar *= laminar
    laminar *= laminar
    laminar = laminar * laminar * laminar
    total = laminar + turbulent
    rise = 2.2113 * a * y / (root * inner) - b  # Re/16 times the derivative of both; 2.2113 = 2.457 x 0.9
    return 8.0 * total**_TWELFTH, -(laminar + 2.0 * turbulent / both * rise) / total


def darcy(q: Any, r: Any, per: Any, relative: Any, k: Any, tools: Tools) -> tuple[Any, Any]:
    """A pipe. r: 8 L / (pi2 g D5); per: Reynolds number for each m3/s; k: sum of K times 8 / (pi2 g D4)."""
    log, larger, _ = tools
    size = abs(q)
    re = larger(size * per, _LAMINAR_RE)
    factor, bend = friction(re, relative, log)
    steep = r / per * factor * re
    local = k * size
    return (steep + local) * q, steep * (2.0 + bend) + 2.0 * local


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


def one_way(q: Any, r: Any, back: Any, tools: Tools) -> tuple[Any, Any]:
    """Loss r times the square of the flow, one way only; back: slope the other way."""
    choose = tools[2]
    steep = r * abs(q)
    backwards = q < 0.0
    return choose(backwards, back, steep) * q, choose(backwards, back, 2.0 * steep)


def held(q: Any, r: Any, most: Any, tools: Tools) -> tuple[Any, Any]:
    """An opening: as one_way, and from the flow `most` on it is held to about that flow."""
    choose = tools[2]
    steep = r * abs(q)
    backwards, over = q < 0.0, q > most
    limit = 2.0 * _HELD * r * most
    loss = choose(over, r * most * most + limit * (q - most), steep * q)
    return choose(backwards, SEALED * q, loss), choose(backwards, SEALED, choose(over, limit, 2.0 * steep))
