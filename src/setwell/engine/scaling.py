"""Scale a formula to a weight, portions or molds, and round it to what a scale can show."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.catalog import Catalog
from setwell.engine.resolve import Reading
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError, OutOfRangeError
from setwell.units import mass_print

_LEAST_G, _MOST_G = 0.1, 1e6
# A weight is good to 1 % when the scale's step is at most this share of it.
_FINE_ENOUGH = 0.01


@dataclass(frozen=True, slots=True)
class ScaledLine:
    """One line at the new size, exact and as the scale shows it."""

    number: int
    text: str
    name: str
    heading: str
    exact_g: float
    rounded_g: float
    percent_exact: float
    percent_rounded: float
    dose_change_pct: float
    is_agent: bool
    below_one_percent: bool
    advice: str


@dataclass(frozen=True, slots=True)
class ScaledFormula:
    """A formula at another size; `factor` is against the size it was written for.

    `weighed_g` is what all lines weigh together before rounding, `written_g` what they weigh in
    the formula as written; `left_out` lines could not be read.
    """

    title: str
    factor: float
    target: str
    batch_g: float
    usable_g: float
    readability_g: float | None
    lines: tuple[ScaledLine, ...]
    warnings: tuple[str, ...]
    weighed_g: float
    written_g: float
    left_out: int = 0


def scale(
    formula: Formula,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula] | None = None,
    to_grams: float | None = None,
    portions_of: tuple[int, float] | None = None,
    molds: tuple[int, float] | None = None,
    batch_g: float | None = None,
    readability_g: float | None = None,
) -> ScaledFormula:
    """Return the formula at another size.

    Give one target: `to_grams` of finished batch, `portions_of` (count, grams each), `molds`
    (count, milliliters each) or `batch_g`, all that is weighed in. Steam and handling loss are
    added on top of the first three, so that the target is what is left to serve. Raises
    InputError when no or several targets are given or nothing weighs.
    """
    bench = bench_build(formula, catalog=catalog, parts=parts)
    wanted, target = _wanted(bench, to_grams, portions_of, molds, batch_g)
    _check_readability(readability_g)
    finished = float(bench.state.composition.finished_g[0])
    if finished <= 0:
        raise InputError(
            "Nothing in this formula has a weight yet, so it cannot be scaled.",
            field="ingredients",
            hint="Give at least one line a weight.",
        )
    written = float(bench.state.line_masses[0].sum())
    kept = finished * (1.0 - formula.loss_pct / 100.0)
    factor = wanted / (written if batch_g is not None else kept)
    masses = bench.state.line_masses[0] * factor
    batch = finished * factor
    rounded = masses if readability_g is None else np.round(masses / readability_g) * readability_g
    total_rounded = batch + float((rounded - masses).sum())
    lines = tuple(
        _line(bench, row, float(masses[row]), float(rounded[row]), batch, total_rounded,
              readability_g)
        for row in range(len(masses))
    )  # fmt: skip
    return ScaledFormula(
        formula.title, factor, target, batch, batch * (1.0 - formula.loss_pct / 100.0),
        readability_g, lines, _warnings(bench, lines, readability_g), written * factor, written,
        sum(not reading.is_usable for reading in bench.plan.readings),
    )  # fmt: skip


def _wanted(
    bench: Bench,
    to_grams: float | None,
    portions_of: tuple[int, float] | None,
    molds: tuple[int, float] | None,
    batch_g: float | None,
) -> tuple[float, str]:
    """Return the grams to serve or to weigh in, and how they were asked for."""
    given = [one for one in (to_grams, portions_of, molds, batch_g) if one is not None]
    if len(given) != 1:
        raise InputError(
            f"Give one size to scale to; {len(given)} were given.",
            field="target",
            hint="A weight, portions, or molds.",
        )
    if to_grams is not None:
        return _checked(to_grams, "weight"), f"{mass_print(to_grams)} to serve"
    if batch_g is not None:
        return _checked(batch_g, "batch"), f"{mass_print(batch_g)} weighed in"
    if portions_of is not None:
        count, each = portions_of
        _check_count(count)
        return _checked(count * each, "portions"), f"{count} portions of {mass_print(each)}"
    count, milliliters = molds or (0, 0.0)
    _check_count(count)
    density = float(bench.state.water.density.value[0]) / 1000.0
    grams = _checked(count * milliliters * density, "molds")
    return grams, f"{count} molds of {milliliters:g} mL, at {density:.3f} g/mL"


def _check_count(count: int) -> None:
    if count < 1:
        raise OutOfRangeError(
            f"The count is {count}; at least 1 is needed.", field="count", hint="Write 1 or more."
        )


def _checked(grams: float, field: str) -> float:
    if not np.isfinite(grams) or not _LEAST_G <= grams <= _MOST_G:
        raise OutOfRangeError(
            f"The {field} come to {grams:g} g; between {_LEAST_G:g} g and 1000 kg is possible.",
            field=field,
            hint="Check the number and the unit.",
        )
    return grams


def _check_readability(readability_g: float | None) -> None:
    if readability_g is None:
        return
    if not np.isfinite(readability_g) or not 1e-4 <= readability_g <= 100:
        raise OutOfRangeError(
            f"A scale that reads {readability_g:g} g is not plausible; 0.0001 to 100 g is.",
            field="readability_g",
            hint="A kitchen scale reads 1 or 0.1 g, a fine one 0.01 g.",
        )


def _line(
    bench: Bench,
    row: int,
    exact: float,
    rounded: float,
    batch: float,
    batch_rounded: float,
    readability_g: float | None,
) -> ScaledLine:
    reading = bench.plan.readings[bench.plan.used[row]]
    is_agent = reading.material is not None and reading.material.agent is not None
    coarse = readability_g is not None and exact > 0 and readability_g > _FINE_ENOUGH * exact
    percent = 100.0 * exact / batch
    percent_rounded = 100.0 * rounded / batch_rounded if batch_rounded > 0 else 0.0
    change = 100.0 * (percent_rounded / percent - 1.0) if percent > 0 else 0.0
    return ScaledLine(
        number=reading.number,
        text=reading.line.text,
        name=_name(reading),
        heading=reading.heading,
        exact_g=exact,
        rounded_g=rounded,
        percent_exact=percent,
        percent_rounded=percent_rounded,
        dose_change_pct=change,
        is_agent=is_agent,
        below_one_percent=bool(coarse),
        advice=_advice(exact, readability_g, is_agent=is_agent) if coarse else "",
    )


def _name(reading: Reading) -> str:
    if reading.material is not None:
        return reading.material.name
    return reading.part.title if reading.part is not None else reading.line.name


def _advice(exact: float, readability_g: float | None, *, is_agent: bool) -> str:
    least = (readability_g or 0.0) / _FINE_ENOUGH
    said = (
        f"{mass_print(exact)} is less than the {mass_print(least)} this scale weighs to 1 %; "
        f"its step alone is {100 * (readability_g or 0) / exact:.2g} % of it."
    )
    if is_agent:
        return f"{said} Use a finer scale, or weigh a larger premix with sugar and take a share."
    return said


def _warnings(
    bench: Bench, lines: tuple[ScaledLine, ...], readability_g: float | None
) -> tuple[str, ...]:
    named = [
        f"{line.name}: {line.advice}" for line in lines if line.below_one_percent and line.is_agent
    ]
    left_out = [reading for reading in bench.plan.readings if not reading.is_usable]
    if left_out:
        named.append(f"{len(left_out)} line(s) could not be read and are not scaled.")
    if readability_g is None:
        named.append("Not rounded: choose what your scale can show.")
    return tuple(named)
