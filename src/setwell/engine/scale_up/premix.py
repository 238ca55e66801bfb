"""Powders mixed dry once for all batches: what to weigh, what to take, how even it is."""

import math
from collections.abc import Mapping

import numpy as np

from setwell.engine.resolve import Reading
from setwell.engine.robustness.weighing import agent_rows_of
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.scale_up.results import LargePremix, PremixPart
from setwell.provenance import Estimate
from setwell.units import mass_print

# Grains of a powdered gum, and how dense they are; 80 to 40 mesh is usual (common practice).
_GRAIN_MM = (0.15, 0.10, 0.30)
_GRAIN_G_PER_ML = 1.5
# Parts of sugar to one of powder that keep it from clumping (common practice, no source).
_CARRIER_PARTS = 8.0
_CARRIER_LEAST = 1.0
# Some of the sugar stays out, so that the scale can make the rest up.
_MOST_OF_LINE = 0.9
_SUGARS = frozenset({"sugar", "sugars", "sweetener"})
# A powder that is a smaller part of the mix is folded in by doubling.
_SMALL_PART = 0.25
_KEEPING = (
    "Sieve it, mix it until it looks even and as long again, and take every share soon: fine and "
    "coarse grains part again when the bag is shaken or carried. Stir the bag before each share. "
    "Weigh two shares and cook one each if the dose is critical. The figure counts grains in a "
    "perfectly mixed powder; a real mix is never better."
)


def large_premixes(
    bench: Bench,
    *,
    factor: float,
    batches: int,
    readability_g: float | None,
    spare: float = 0.0,
    row: int = 0,
) -> tuple[LargePremix, ...]:
    """Return one premix for each part of the recipe whose powders can share a sugar.

    `factor` is all of it against the formula as written, made in so many equal `batches`; of
    the premix a share of `spare` more is made than they take.
    """
    masses = bench.state.line_masses[row] * factor * (1.0 + spare)
    agents = agent_rows_of(bench.plan)
    found: dict[str, list[int]] = {}
    for one in sorted(agents):
        if masses[one] > 0 and not _is_wet(_reading(bench, one)):
            found.setdefault(_reading(bench, one).heading, []).append(one)
    left = {one: float(masses[one]) for one in range(len(masses)) if _is_sugar(bench, one)}
    made = []
    for heading, rows in found.items():
        premix = _premix(bench, heading, rows, masses, left, batches, spare, readability_g)
        if premix is not None:
            made.append(premix)
    return tuple(made)


def grain_spread(dose_g: float, share: float) -> Estimate:
    """Return how unevenly a well mixed powder doses, by counting grains [% of the dose].

    `share` is the part of the mix that is this powder. The number of grains in a random sample
    is binomial, so its relative standard deviation is sqrt((1 - share) / grains).
    """
    middle, low, high = (
        100.0 * math.sqrt((1.0 - share) / max(dose_g / _grain_g(size), 1.0)) for size in _GRAIN_MM
    )
    return Estimate(middle, "%", low, high, "grains in a random mix", PRACTICE)


def _grain_g(size_mm: float) -> float:
    return _GRAIN_G_PER_ML * math.pi / 6.0 * (size_mm / 10.0) ** 3


def _reading(bench: Bench, row: int) -> Reading:
    return bench.plan.readings[bench.plan.used[row]]


def _is_wet(reading: Reading) -> bool:
    """True for what is soaked by itself and goes into no dry mix, such as gelatin."""
    agent = reading.material.agent if reading.material else None
    return agent is not None and agent.key == "gelatin"


def _is_sugar(bench: Bench, row: int) -> bool:
    material = _reading(bench, row).material
    return material is not None and material.group in _SUGARS and not material.is_liquid


def _premix(
    bench: Bench,
    heading: str,
    rows: list[int],
    masses: np.ndarray,
    left: dict[int, float],
    batches: int,
    spare: float,
    readability_g: float | None,
) -> LargePremix | None:
    powder = float(sum(masses[one] for one in rows))
    carrier = _carrier(bench, heading, left)
    if carrier is None:
        return None
    grams = min(_CARRIER_PARTS * powder, _MOST_OF_LINE * left[carrier])
    if grams < _CARRIER_LEAST * powder:
        return None
    left[carrier] -= grams
    whole, step = powder + grams, readability_g or 0.0
    shares = batches * (1.0 + spare)
    parts = tuple(_part(bench, one, float(masses[one]), whole, shares) for one in rows)
    name = _name(_reading(bench, carrier))
    take = whole / shares
    return LargePremix(
        heading=heading, parts=parts, carrier=name,
        carrier_line=_reading(bench, carrier).number, carrier_g=grams, whole_g=whole,
        batches=batches, take_g=take,
        carrier_left_g=(float(masses[carrier]) - grams) / shares,
        weighing_pct=100.0 * 0.5 * step / take,
        text=_text(parts, name, grams, whole, take, batches),
        note=f"{_doubling(parts, whole)}{_KEEPING}",
    )  # fmt: skip


def _carrier(bench: Bench, heading: str, left: Mapping[int, float]) -> int | None:
    """Return the heaviest sugar of the same part of the recipe."""
    same = [one for one in left if _reading(bench, one).heading == heading and left[one] > 0]
    return max(same, key=lambda one: left[one], default=None)


def _part(bench: Bench, row: int, grams: float, whole: float, shares: float) -> PremixPart:
    reading, dose = _reading(bench, row), grams / shares
    return PremixPart(
        _name(reading), reading.number, grams, dose, grain_spread(dose, grams / whole)
    )


def _name(reading: Reading) -> str:
    return reading.material.name if reading.material is not None else reading.line.name


def _text(
    parts: tuple[PremixPart, ...], carrier: str, grams: float, whole: float, take: float, count: int
) -> str:
    powders = ", ".join(f"{mass_print(part.grams)} {part.name}" for part in parts)
    mixed = f"Mix {powders} dry with {mass_print(grams)} {carrier}: {mass_print(whole)} in all."
    if count == 1:
        return f"{mixed} All of it goes into the one batch."
    return f"{mixed} Each of {count} batches takes {mass_print(take)}."


def _doubling(parts: tuple[PremixPart, ...], whole: float) -> str:
    least = min(part.grams for part in parts)
    if least >= _SMALL_PART * whole:
        return ""
    steps = math.ceil(math.log2(whole / least))
    name = min(parts, key=lambda part: part.grams).name
    return (
        f"Mix {name} with as much sugar as itself first, then double the sugar each time "
        f"({steps} times). "
    )
