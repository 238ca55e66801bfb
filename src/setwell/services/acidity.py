"""Acid and buffer: what it takes to reach a pH, and the curve on the way."""

from dataclasses import dataclass, replace

from setwell.documents.line_chart import Band, LineChart, Mark, Series, line_chart_svg
from setwell.domain.formula import Formula
from setwell.engine.acid_additives import AcidAdditive, additive_find, additives
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Caution
from setwell.engine.catalog import Catalog
from setwell.engine.dose_search import target_check
from setwell.engine.dosing import (
    DoseResult,
    Taste,
    acid_to,
    buffer_to,
    dose_for,
    ph_now,
    start_check,
)
from setwell.engine.rules.bench import Bench
from setwell.engine.titration_curve import (
    Titration,
    TitrationCurve,
    casein_points,
    ph_windows,
    titrate,
)
from setwell.provenance import Estimate, Evidence
from setwell.services.calibration import Calibration, calibration_for
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.tables.rules import cautions

__all__ = [
    "AcidPlan",
    "AdditiveName",
    "DoseResult",
    "Taste",
    "Titration",
    "TitrationCurve",
    "TitrationPlan",
    "acid_dose",
    "additive_names",
    "titration",
]

_CAUTION = "acid_claim"
# As the finding about curdling has it (dairy chemistry, recalled).
_CURDLES_PH = 5.2
# A dose is weighed well while the step of the scale is at most this share of it.
_COARSE = 0.1
_STYLES = ("solid", "dashed", "dotted")


@dataclass(frozen=True, slots=True)
class AdditiveName:
    """One acid or buffer to choose from."""

    key: str
    name: str
    is_acid: bool


@dataclass(frozen=True, slots=True)
class AcidPlan:
    """What brings a formula to a pH; the doses are sorted, those out of reach come last.

    `readability_g` is the step of this kitchen's scale. `is_moved` is True where the reading of
    an earlier version moves the computed pH. `warnings` tell what the numbers leave out.
    """

    title: str
    batch_g: float
    readability_g: float
    ph: Estimate
    is_measured: bool
    is_moved: bool
    target_ph: float
    direction: str
    doses: tuple[DoseResult, ...]
    warnings: tuple[str, ...]
    cautions: tuple[Caution, ...]
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class TitrationPlan:
    """pH against what is added, as numbers and as a drawing."""

    title: str
    is_measured: bool
    is_moved: bool
    titration: Titration
    svg: str
    warnings: tuple[str, ...]
    cautions: tuple[Caution, ...]


def additive_names() -> tuple[AdditiveName, ...]:
    """Return all acids and buffers that a dose is worked out for, acids first."""
    return tuple(AdditiveName(one.key, one.name, one.is_acid) for one in additives())


def acid_dose(
    *,
    formula: Formula,
    target_ph: float,
    additive: str | None = None,
    formula_id: int | None = None,
    number: int | None = None,
) -> AcidPlan:
    """Return what brings a formula to a pH: all additives that go there, or the one named.

    A stored version is named by `formula_id` and `number`, so that its readings count.

    Raises OutOfRangeError for a pH outside 0 to 14, InputError when the formula has no pH to
    start from, UnknownNameError for an additive that is not known.
    """
    target_check(target_ph)
    catalog = kitchen_catalog()
    chosen = None if not additive else additive_find(additive, catalog)
    readings = calibration_for(formula=formula, formula_id=formula_id, number=number)
    bench = _bench(formula, catalog, readings)
    now = ph_now(bench)
    is_down = target_ph < now.value
    step = catalog.kitchen.scale_readability_g
    found = _doses(bench, target_ph, chosen, catalog, is_down=is_down)
    return AcidPlan(
        title=formula.title,
        batch_g=float(bench.state.composition.finished_g[0]),
        readability_g=step,
        ph=now,
        is_measured=readings.is_measured,
        is_moved=readings.is_moved,
        target_ph=target_ph,
        direction="acid" if is_down else "buffer",
        doses=tuple(_weighed(one, step) for one in found),
        warnings=(*_warnings(bench), *_at_target(bench, target_ph)),
        cautions=_cautions(),
        evidence=now.evidence,
    )


def _doses(
    bench: Bench,
    target_ph: float,
    chosen: AcidAdditive | None,
    catalog: Catalog,
    *,
    is_down: bool,
) -> tuple[DoseResult, ...]:
    if chosen is not None:
        return (dose_for(bench, target_ph, chosen),)
    towards = acid_to if is_down else buffer_to
    return towards(bench, target_ph, catalog=catalog)


def _weighed(result: DoseResult, step: float) -> DoseResult:
    """Say when the kitchen's scale is too coarse for a dose."""
    grams = 0.0 if result.grams is None else result.grams.value
    if not 0.0 < grams < step / _COARSE:
        return result
    said = (
        f"less than a scale of {step:g} g weighs well: dissolve ten times as much in water and "
        "take a tenth"
    )
    return replace(result, flags=(*result.flags, said))


def titration(
    *,
    formula: Formula,
    additive: str | None = None,
    target_ph: float | None = None,
    formula_id: int | None = None,
    number: int | None = None,
) -> TitrationPlan:
    """Return pH against what is added: of citric acid and trisodium citrate, or the one named.

    The drawing marks a target where it lies on the way.

    Raises InputError when the formula has no pH to start from, UnknownNameError for an additive
    that is not known.
    """
    catalog = kitchen_catalog()
    chosen = None if not additive else additive_find(additive, catalog)
    readings = calibration_for(formula=formula, formula_id=formula_id, number=number)
    bench = _bench(formula, catalog, readings)
    found = titrate(bench, chosen, catalog=catalog)
    return TitrationPlan(
        title=formula.title,
        is_measured=readings.is_measured,
        is_moved=readings.is_moved,
        titration=found,
        svg=line_chart_svg(_chart(found, target_ph)),
        warnings=_warnings(bench),
        cautions=_cautions(),
    )


def _bench(formula: Formula, catalog: Catalog, readings: Calibration) -> Bench:
    bench = bench_build(
        formula,
        catalog=catalog,
        parts=parts_for(formula),
        measured_ph=readings.measured,
        ph_offset=readings.offset,
    )
    start_check(bench)
    return bench


def _chart(found: Titration, target_ph: float | None) -> LineChart:
    series = tuple(
        Series(one.name, one.grams_per_kg, one.ph, style, one.ph_low, one.ph_high)
        for one, style in zip(found.curves, _STYLES, strict=False)
    )
    low = min(min(one.ph_low) for one in found.curves)
    high = max(max(one.ph_high) for one in found.curves)
    marks = [Mark(point.ph, point.label, "y") for point in found.points]
    if target_ph is not None:
        marks.append(Mark(target_ph, "to reach", "y"))
    return LineChart(
        "pH against what is added", "g per kg of batch", "pH", series, _bands(found, low, high),
        tuple(mark for mark in marks if low <= mark.value <= high),
        x_limits=(0.0, found.curves[0].grams_per_kg[-1]),
    )  # fmt: skip


def _bands(found: Titration, low: float, high: float) -> tuple[Band, ...]:
    """Return the windows that the curves meet; agents with the same one share a band."""
    names: dict[tuple[float, float], list[str]] = {}
    for window in found.windows:
        if window.low < high and window.high > low:
            names.setdefault((window.low, window.high), []).append(window.agent)
    return tuple(
        Band(max(start, low), min(end, high), ", ".join(agents), "y")
        for (start, end), agents in names.items()
    )


def _warnings(bench: Bench) -> tuple[str, ...]:
    said = list(bench.plan.problems)
    left_out = sum(not reading.is_usable for reading in bench.plan.readings)
    if left_out:
        said.append(f"{left_out} line(s) could not be read and are not counted.")
    known = float(bench.state.water.acidity.known_share[0])
    if known < 0.95:
        said.append(f"The pH of {100 * (1 - known):.0f} % of the batch is not known.")
    if bench.state.water.acidity.is_beyond[0]:
        said.append("There is more salt than the model is good for; go by a meter.")
    return tuple(said)


def _at_target(bench: Bench, target_ph: float) -> list[str]:
    """Say which agents the target does not suit, and whether it curdles milk."""
    said = [
        f"{window.agent} works best between pH {window.low:g} and {window.high:g}."
        for window in ph_windows(bench)
        if not window.low <= target_ph <= window.high
    ]
    if casein_points(bench) and target_ph < _CURDLES_PH:
        said.append(
            f"Milk is in: warm, its protein flocculates below about pH {_CURDLES_PH:g}, cold at "
            "4.6."
        )
    return said


def _cautions() -> tuple[Caution, ...]:
    row = cautions()[_CAUTION]
    return (Caution(_CAUTION, row.topic, row.text, (row.citation,)),)
