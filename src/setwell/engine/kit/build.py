"""Dry kits put together: bags by the moment they go in, tolerances, lots, what all take."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from setwell.domain.pantry import Lot
from setwell.engine.kit.dry import is_dry
from setwell.engine.kit.results import Kit, KitBag, KitItem
from setwell.engine.material import Allergen, Material
from setwell.engine.resolve import Reading
from setwell.engine.rules.bench import Bench
from setwell.engine.scale_up.premix import large_premixes
from setwell.engine.scale_up.results import LargePremix
from setwell.errors import InputError, OutOfRangeError
from setwell.units import date_print, mass_print

KITS_MOST = 500
_SPARE_MOST = 50.0
_LINES_MOST = 26
# How far a weight in a kit may be off (our own judgment): powders that set decide.
AGENT_PCT, OTHER_PCT = 2.0, 5.0
_SOON = dt.timedelta(days=60)


@dataclass(frozen=True, slots=True)
class KitAsk:
    """How many kits, of how large a batch each, with how much spare; which lines, if not all dry.

    `serves_g` is what one kit makes to serve; left out, the formula as written.
    """

    kits: int = 10
    serves_g: float | None = None
    spare_pct: float = 2.0
    lines: tuple[int, ...] | None = None


def kit_build(
    bench: Bench,
    *,
    ask: KitAsk,
    readability_g: float,
    lots: Sequence[Lot] = (),
    today: dt.date,
) -> Kit:
    """Return the dry kits of a formula; raises InputError at the field for what cannot be."""
    factor, usable = _factor(bench, ask)
    rows = _rows(bench, ask)
    numbers = ask.kits * (1.0 + ask.spare_pct / 100.0)
    masses = bench.state.line_masses[0] * factor
    bags = _bags(bench, rows, masses.tolist(), numbers, readability_g, lots)
    items = [item for bag in bags for item in bag.items]
    days = [day for item in items for _, day in item.lots if day is not None]
    sure, check = _allergens(bench, rows)
    return Kit(
        title=bench.formula.title, kits=ask.kits, spare_pct=ask.spare_pct, bags=bags,
        net_g=sum(bag.net_g for bag in bags), usable_g=usable,
        left_out=_left_out(bench, rows, masses.tolist()),
        allergens=sure, allergens_check=check, best_before=min(days, default=None),
        premixes=_premixes(bench, rows, factor, ask, readability_g),
        remarks=_remarks(items, days, today),
    )  # fmt: skip


def _factor(bench: Bench, ask: KitAsk) -> tuple[float, float]:
    if not 1 <= ask.kits <= KITS_MOST:
        raise OutOfRangeError(
            f"{ask.kits} kits cannot be packed from one sheet; 1 to {KITS_MOST} can.", field="kits"
        )
    if not 0 <= ask.spare_pct <= _SPARE_MOST:
        raise OutOfRangeError(
            f"{ask.spare_pct:g} % spare is not possible here; 0 to {_SPARE_MOST:g} % is.",
            field="spare_pct",
        )
    usable = float(bench.state.composition.finished_g[0]) * (1 - bench.formula.loss_pct / 100.0)
    if usable <= 0:
        raise InputError(
            "Nothing in this formula has a weight yet, so nothing can be packed.",
            field="kits",
            hint="Give at least one line a weight.",
        )
    if ask.serves_g is None:
        return 1.0, usable
    if not 1.0 <= ask.serves_g <= 1e5:
        raise OutOfRangeError(
            f"A kit for {ask.serves_g:g} g is not possible here; 1 g to 100 kg is.",
            field="serves_g",
        )
    return ask.serves_g / usable, ask.serves_g


def _rows(bench: Bench, ask: KitAsk) -> list[int]:
    """Return the rows that are packed: the dry ones, or those that were chosen."""
    numbers = {
        bench.plan.readings[position].number: row for row, position in enumerate(bench.plan.used)
    }
    if ask.lines is None:
        rows = [row for row in numbers.values() if is_dry(_reading(bench, row))]
    else:
        unknown = [str(number) for number in ask.lines if number not in numbers]
        if unknown:
            raise InputError(
                f"There is no weighed line {', '.join(unknown)} in this formula.", field="lines"
            )
        rows = [numbers[number] for number in sorted(set(ask.lines))]
    rows = [row for row in rows if bench.state.line_masses[0][row] > 0]
    if not rows:
        raise InputError(
            "No line of this formula keeps dry in a bag.",
            field="lines",
            hint="Choose the lines to pack yourself.",
        )
    return rows


def _reading(bench: Bench, row: int) -> Reading:
    return bench.plan.readings[bench.plan.used[row]]


def _bags(
    bench: Bench,
    rows: list[int],
    masses: list[float],
    numbers: float,
    step: float,
    lots: Sequence[Lot],
) -> tuple[KitBag, ...]:
    by_heading: dict[str, list[KitItem]] = {}
    for row in rows:
        item = _item(_reading(bench, row), masses[row], numbers, step, lots)
        by_heading.setdefault(_reading(bench, row).heading, []).append(item)
    if len(by_heading) > _LINES_MOST:
        raise InputError(f"{len(by_heading)} bags are more than a kit can have.", field="lines")
    return tuple(
        KitBag(
            chr(ord("A") + number), heading, tuple(items),
            sum(item.grams for item in items),
            sum(item.tolerance_g or 0.0 for item in items) + step,
        )
        for number, (heading, items) in enumerate(by_heading.items())
    )  # fmt: skip


def _item(
    reading: Reading, grams: float, numbers: float, step: float, lots: Sequence[Lot]
) -> KitItem:
    material = reading.material
    is_agent = material is not None and material.agent is not None
    percent = AGENT_PCT if is_agent else OTHER_PCT
    allowed, shown = percent / 100.0 * grams, round(grams / step) * step
    # The display hides half a step, and what was rounded off.
    slack = allowed - 0.5 * step - abs(shown - grams)
    tolerance = math.floor(slack / step + 1e-9) * step if slack >= -1e-9 else None
    advice = "" if tolerance is not None else _finer(grams, percent, step, is_agent=is_agent)
    name = material.name if material is not None else reading.line.name
    return KitItem(
        reading.number, name, grams, shown, tolerance, grams * numbers,
        is_agent, _lots(material, lots), advice,
    )  # fmt: skip


def _finer(grams: float, percent: float, step: float, *, is_agent: bool) -> str:
    """Say which scale holds the dose."""
    wanted = 10.0 ** math.floor(math.log10(percent / 100.0 * grams))
    premix = ", or pack a premix for all kits" if is_agent else ""
    return (
        f"{mass_print(grams)} ± {percent:g} % cannot be weighed in steps of {mass_print(step)}: "
        f"take a scale that reads {wanted:g} g{premix}."
    )


def _lots(material: Material | None, lots: Sequence[Lot]) -> tuple[tuple[str, dt.date | None], ...]:
    side = material.agent if material is not None else None
    if side is None or not side.lot:
        return ()
    # Codes can repeat between agents; the earliest day is the safe one.
    days = [
        lot.best_before
        for lot in lots
        if lot.in_use and lot.lot_code == side.lot and lot.best_before is not None
    ]
    return ((side.lot, min(days, default=None)),)


def _left_out(
    bench: Bench, rows: list[int], masses: list[float]
) -> tuple[tuple[int, str, float], ...]:
    told = []
    for row in range(len(masses)):
        if row not in rows and masses[row] > 0:
            reading = _reading(bench, row)
            name = reading.material.name if reading.material else reading.line.name
            told.append((reading.number, name, masses[row]))
    return tuple(told)


def _allergens(bench: Bench, rows: list[int]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the allergens of what is packed: those in it, and those to ask the supplier for."""
    tags = [
        tag
        for row in rows
        for share, material in zip(bench.plan.expansion[row], bench.plan.materials, strict=True)
        if share > 0
        for tag in material.allergens
    ]
    sure = {_allergen(tag) for tag in tags if tag.certainty == "contains"}
    check = {_allergen(tag) for tag in tags if tag.certainty != "contains"}
    return tuple(sorted(sure)), tuple(sorted(check - sure))


def _allergen(tag: Allergen) -> str:
    name = tag.allergen.replace("_", " ")
    return f"{name} ({tag.kind.replace('_', ' ')})" if tag.kind else name


def _premixes(
    bench: Bench, rows: list[int], factor: float, ask: KitAsk, step: float
) -> tuple[LargePremix, ...]:
    """Return a premix only where all of it, the sugar too, is packed."""
    packed = {_reading(bench, row).number for row in rows}
    made = large_premixes(
        bench,
        factor=factor * ask.kits,
        batches=ask.kits,
        readability_g=step,
        spare=ask.spare_pct / 100.0,
    )
    return tuple(
        premix
        for premix in made
        if {premix.carrier_line, *(part.line for part in premix.parts)} <= packed
    )


def _remarks(items: list[KitItem], days: list[dt.date], today: dt.date) -> tuple[str, ...]:
    told = []
    unlotted = [item.name for item in items if item.is_agent and not item.lots]
    if unlotted:
        told.append(f"No lot is in use for {', '.join(unlotted)}: write its number by hand.")
    if days and min(days) <= today:
        told.append(f"A lot is past its day, {date_print(min(days))}: do not pack it.")
    elif days and min(days) <= today + _SOON:
        told.append(f"A lot has to be used by {date_print(min(days))}: the kit keeps no longer.")
    return tuple(told)
