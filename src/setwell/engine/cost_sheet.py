"""What one batch costs line by line: waste, yield, hands, and which lines drive it."""

import math

import numpy as np
from numpy.typing import NDArray

from setwell.domain.pantry import Kitchen
from setwell.engine.cost import has_unread, is_free, lines_unread, money
from setwell.engine.cost_results import CostAsk, CostLine, CostSheet, LinePrice
from setwell.engine.material import Material
from setwell.engine.resolve import Reading
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError, OutOfRangeError
from setwell.provenance import Estimate

# The lines that together make this share of the price drive it (our own judgment).
_MOST_OF_IT = 0.8
_LABOR_MOST_MIN = 10_000.0
_PORTIONS_MOST = 100_000


def cost_sheet(bench: Bench, *, kitchen: Kitchen, ask: CostAsk | None = None) -> CostSheet:
    """Return what one batch costs.

    Raises InputError at the field for hands without a rate or portions that cannot be.
    """
    ask = ask or CostAsk()
    _check(ask)
    lines = _lines(bench)
    unpriced = tuple(dict.fromkeys(name for line in lines for name in line.missing))
    weighed = float(bench.state.line_masses[0].sum())
    finished = float(bench.state.composition.finished_g[0])
    usable = finished * (1.0 - bench.formula.loss_pct / 100.0)
    portions, portion_g, rest = _portions(bench, ask, usable)
    is_open = bool(unpriced) or has_unread(bench.plan)
    food = _food(lines, kitchen.currency, is_open=is_open)
    labor = _labor(ask, kitchen)
    whole = _sum(food, labor, is_open=is_open)
    return CostSheet(
        title=bench.formula.title, currency=kitchen.currency, lines=_driven(lines),
        ingredients=food, labor=labor, batch=whole,
        per_portion=_over(whole, portions), per_100g=_over(whole, usable / 100.0),
        portions=portions, portion_g=portion_g,
        weighed_g=weighed, finished_g=finished, usable_g=usable,
        yield_pct=100.0 * usable / weighed if weighed > 0 else 0.0,
        unpriced=unpriced, unpriced_pct=_unpriced_pct(lines, weighed),
        remarks=(*rest, *_remarks(bench, lines)),
    )  # fmt: skip


def _check(ask: CostAsk) -> None:
    for field, value, most in (
        ("labor_min", ask.labor_min, _LABOR_MOST_MIN),
        ("labor_per_hour", ask.labor_per_hour, 1e6),
    ):
        if value is not None and not 0 <= value <= most:
            raise OutOfRangeError(f"{value:g} is not possible here; 0 to {most:g} is.", field=field)
    if ask.portions is not None and not 1 <= ask.portions <= _PORTIONS_MOST:
        raise OutOfRangeError(
            f"{ask.portions} portions cannot be priced; at least 1 is needed.",
            field="portions", hint="Write how many are served from one batch.",
        )  # fmt: skip
    if ask.portion_g is not None and not 0 < ask.portion_g <= 1e6:
        raise OutOfRangeError(
            f"A portion of {ask.portion_g:g} g cannot be served.", field="portion_g",
            hint="Write its weight in grams, above 0.",
        )  # fmt: skip
    if ask.portions is not None and ask.portion_g is not None:
        raise InputError(
            "The number and the weight of the portions were both given.", field="portion_g",
            hint="Leave one of the two empty; the other follows from it.",
        )  # fmt: skip


def _lines(bench: Bench) -> tuple[CostLine, ...]:
    masses = bench.state.line_masses[0]
    return tuple(
        _line(bench, row, bench.plan.readings[position], float(masses[row]))
        for row, position in enumerate(bench.plan.used)
    )


def _line(bench: Bench, row: int, reading: Reading, grams: float) -> CostLine:
    parts = _parts(bench.plan.materials, bench.plan.expansion[row], grams)
    known = [part.paid for part in parts if part.paid is not None]
    return CostLine(
        number=reading.number,
        name=line_name(reading),
        grams=grams,
        bought_g=sum(part.bought_g for part in parts),
        paid=sum(known) if known else None,
        share_pct=None,
        is_driver=False,
        missing=tuple(part.name for part in parts if part.paid is None),
        parts=parts,
    )


def line_name(reading: Reading) -> str:
    """Return what a line is called: its material, its part, or its own words."""
    if reading.material is not None:
        return reading.material.name
    return reading.part.title if reading.part is not None else reading.line.name


def _parts(
    materials: tuple[Material, ...], shares: NDArray[np.float64], grams: float
) -> tuple[LinePrice, ...]:
    # Steam that leaves a part counts as less water than nothing; water is free either way.
    return tuple(
        _priced(material, grams * float(share))
        for material, share in zip(materials, shares, strict=True)
        if share > 0 and grams > 0
    )


def _priced(material: Material, grams: float) -> LinePrice:
    free = is_free(material) and material.cost_per_kg is None
    per_kg = material.cost_per_kg
    paid = 0.0 if free else None if per_kg is None else grams / 1000.0 * per_kg
    return LinePrice(
        material.name, grams, grams / (1.0 - material.waste_pct / 100.0),
        material.price_per_kg, material.waste_pct, paid, material.price_from, free,
    )  # fmt: skip


def _driven(lines: tuple[CostLine, ...]) -> tuple[CostLine, ...]:
    """Return the lines with their share of the price, and which of them make most of it."""
    total = sum(line.paid or 0.0 for line in lines)
    if total <= 0:
        return lines
    drivers, reached = set(), 0.0
    for line in sorted(lines, key=lambda one: -(one.paid or 0.0)):
        if reached >= _MOST_OF_IT * total or not line.paid:
            break
        drivers.add(line.number)
        reached += line.paid
    return tuple(
        CostLine(
            line.number, line.name, line.grams, line.bought_g, line.paid,
            None if line.paid is None else 100.0 * line.paid / total,
            line.number in drivers, line.missing, line.parts,
        )
        for line in lines
    )  # fmt: skip


def _portions(
    bench: Bench, ask: CostAsk, usable_g: float
) -> tuple[int | None, float | None, tuple[str, ...]]:
    """Return how many portions of what weight, and what is left over."""
    if ask.portion_g is not None:
        count = math.floor(usable_g / ask.portion_g + 1e-9)
        if count < 1:
            raise OutOfRangeError(
                f"A portion of {ask.portion_g:g} g is more than the batch, {usable_g:.4g} g.",
                field="portion_g", hint="Make the portion smaller, or scale the formula up.",
            )  # fmt: skip
        left = usable_g - count * ask.portion_g
        said = (f"{left:.3g} g are left over; the portions pay for them.",) if left >= 0.5 else ()
        return count, ask.portion_g, said
    formula = bench.formula
    own = formula.portions or (formula.molds.count if formula.molds else None)
    served = ask.portions or own
    return (served, usable_g / served, ()) if served else (None, None, ())


def _food(lines: tuple[CostLine, ...], currency: str, *, is_open: bool) -> Estimate | None:
    """Return what the ingredients cost; None where not one price is known."""
    known = [
        part.paid
        for line in lines
        for part in line.parts
        if part.paid is not None and not part.is_free
    ]
    return None if is_open and not known else money(sum(known), currency, is_open=is_open)


def _labor(ask: CostAsk, kitchen: Kitchen) -> Estimate | None:
    if not ask.labor_min:
        return None
    rate = kitchen.labor_per_hour if ask.labor_per_hour is None else ask.labor_per_hour
    if rate is None:
        raise InputError(
            "Minutes of work were given, but no price of an hour.", field="labor_per_hour",
            hint="Write it here, or once for all in the settings of the kitchen.",
        )  # fmt: skip
    paid = ask.labor_min / 60.0 * rate
    return Estimate(paid, kitchen.currency, paid, paid, "minutes and rate as given", ())


def _sum(food: Estimate | None, labor: Estimate | None, *, is_open: bool) -> Estimate | None:
    known = [one for one in (food, labor) if one is not None]
    if not known:
        return None
    return money(sum(one.value for one in known), known[0].unit, is_open=is_open)


def _over(whole: Estimate | None, count: float | None) -> Estimate | None:
    if whole is None or not count:
        return None
    return money(whole.value / count, whole.unit, is_open=whole.high is None)


def _unpriced_pct(lines: tuple[CostLine, ...], weighed: float) -> float:
    grams = sum(part.grams for line in lines for part in line.parts if part.paid is None)
    return 100.0 * grams / weighed if weighed > 0 else 0.0


def _remarks(bench: Bench, lines: tuple[CostLine, ...]) -> tuple[str, ...]:
    unread = [reading for reading in bench.plan.readings if not reading.is_usable]
    free = any(part.is_free for line in lines for part in line.parts)
    return (
        *((f"{lines_unread(len(unread))} not in the price.",) if unread else ()),
        *(("Tap water is counted as free.",) if free else ()),
    )
