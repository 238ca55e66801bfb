"""A second layer poured onto a set one: does it melt the first, and how warm may it be."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cold_faces import faces_of
from setwell.engine.heat.course import Course
from setwell.engine.heat.foodstuff import foodstuff_of
from setwell.engine.heat.mold_body import mold_wall
from setwell.engine.heat.mold_form import mold_geometry
from setwell.engine.heat.results import Advice, Foodstuff
from setwell.engine.heat.setting_levels import setting_levels
from setwell.engine.material import Span
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.verdict import Verdict
from setwell.errors import InputError
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.science.heat.body import Body, Probe, box_body
from setwell.science.heat.krylov import cool_body
from setwell.units import temperature_print

Array = NDArray[np.float64]

# Cells in each layer, and points of time up to when the warmth has passed.
_CELLS, _POINTS = 32, 160
# The pour stays this far above where it sets, and the seam this far below where the first melts
# [K] (our judgment).
_ABOVE_SET_K, _BELOW_MELT_K = 5.0, 2.0
# Hotter than this nobody pours [°C].
_HOTTEST_C = 95.0
_POUR_K = 2.0
_MODEL = "two layers in contact, conduction upward and downward, sides left out"


@dataclass(frozen=True, slots=True)
class LayersResult:
    """Two layers: what the seam goes through, and how warm the pour may be.

    `window_c` is the lowest and highest pour that neither sets too soon nor melts the first
    layer; None where there is none.
    """

    contact_c: Estimate
    seam: Course
    lower_melts: Verdict
    melted_mm: Estimate
    window_c: tuple[float, float] | None
    text: str
    advice: tuple[Advice, ...]


@dataclass(frozen=True, slots=True)
class _Layers:
    """Two layers and the answers of their column to one degree in either."""

    seconds: Array
    depths_mm: Array
    of_lower: Array
    of_upper: Array
    seam_lower: Array
    seam_upper: Array
    air_c: float

    def seam(self, lower_c: float, upper_c: float) -> Array:
        """Return the seam over time."""
        warm, hot = lower_c - self.air_c, upper_c - self.air_c
        return self.air_c + warm * self.seam_lower + hot * self.seam_upper

    def melted(self, lower_c: float, upper_c: float, melt_c: float) -> float:
        """Return how deep the lower layer gets warmer than it melts [mm]."""
        warm, hot = lower_c - self.air_c, upper_c - self.air_c
        peak = (self.air_c + warm * self.of_lower + hot * self.of_upper).max(axis=0)
        seam = float(self.seam(lower_c, upper_c).max())
        depth = np.concatenate([[0.0], self.depths_mm])
        peak = np.concatenate([[seam], peak])
        if peak[0] <= melt_c:
            return 0.0
        cold = np.flatnonzero(peak <= melt_c)
        if len(cold) == 0:
            return float(depth[-1])
        at = int(cold[0])
        part = (peak[at - 1] - melt_c) / (peak[at - 1] - peak[at])
        return float(depth[at - 1] + part * (depth[at] - depth[at - 1]))

    def hottest_pour(self, lower_c: float, melt_c: float) -> float:
        """Return the hottest pour whose seam stays below a temperature."""
        room = melt_c - self.air_c - (lower_c - self.air_c) * self.seam_lower
        counts = self.seam_upper > 1e-6
        return float(np.min(room[counts] / self.seam_upper[counts])) + self.air_c


def pour_layers(
    lower: Bench,
    upper: Bench,
    plan: CoolPlan,
    *,
    lower_mm: float,
    upper_mm: float,
    lower_c: float,
    upper_c: float,
    row: int = 0,
) -> LayersResult:
    """Return what happens when a layer is poured onto a set one in the place of the plan.

    `lower_mm` and `upper_mm` are the thicknesses, `lower_c` how cold the first layer is and
    `upper_c` how warm the second is poured.
    """
    for field, thick in (("lower_mm", lower_mm), ("upper_mm", upper_mm)):
        if not 0.5 <= thick <= 500.0:
            raise InputError(
                f"A layer of {thick:g} mm cannot be computed.",
                field=field,
                hint="Layers are 0.5 to 500 mm thick.",
            )
    stuffs = (foodstuff_of(lower, at_c=_warm(lower_c), row=row),
              foodstuff_of(upper, at_c=_warm(upper_c), row=row))  # fmt: skip
    column = _column(stuffs, plan, (lower_mm, upper_mm), upper_c)
    melt = _melting(lower, row)
    evidence = evidence_join([stuffs[0].evidence, stuffs[1].evidence, PRACTICE])
    window = _window(column, lower_c, melt, upper, row)
    depth = _melted(column, lower_c, upper_c, melt, evidence)
    melts = _melts(depth)
    return LayersResult(
        contact_c=_contact(stuffs, lower_c, upper_c, evidence),
        seam=_seam(column, lower_c, upper_c, evidence),
        lower_melts=melts,
        melted_mm=depth,
        window_c=window,
        text=_text(column, lower_c, upper_c, melt, melts),
        advice=_advice(window, melt, upper_c, upper, row),
    )


def _warm(celsius: float) -> float:
    return float(np.clip(celsius, 1.0, 95.0))


def _melting(bench: Bench, row: int) -> Span:
    """Return where the first layer melts; without end where it never does."""
    melt = bench.state.texture.melt_c
    if melt is None or not float(melt.value[row]) == float(melt.value[row]):
        raise InputError(
            "The first layer does not set, so nothing can be poured onto it.",
            field="lower",
            hint="Choose a formula that sets.",
        )
    return Span(*(float(part[row]) for part in melt))


def _column(
    stuffs: tuple[Foodstuff, Foodstuff],
    plan: CoolPlan,
    thick_mm: tuple[float, float],
    upper_c: float,
) -> _Layers:
    """Return the column of both layers under the surface coefficients of the place."""
    low, high = (one / 1000.0 for one in thick_mm)
    faces = faces_of(mold := mold_geometry(plan.mold), mold_wall(mold), plan.cooler)
    usual = faces.usual(0.3 * max(upper_c - plan.cooler.air_c, 5.0))
    edges = np.concatenate([_edges(low)[::-1] * -1.0, _edges(high)[1:]])
    is_low = (edges[1:] + edges[:-1])[None, None, :] < 0.0
    body = box_body(
        [0.0, 1.0],
        [0.0, 1.0],
        edges,
        conductivity=np.where(is_low, *(one.conductivity for one in stuffs)),
        volumetric_heat=np.where(is_low, *(one.density * one.heat_capacity for one in stuffs)),
        coefficients={
            "top": usual.get("top", usual["side"]),
            "bottom": usual.get("base", usual["side"]),
        },
    )
    slowest = max(low, high) ** 2 / min(one.diffusivity for one in stuffs)
    seconds = slowest * np.linspace(0.05, 1.0, _POINTS) ** 3
    responses = [
        _response(body, np.where(mask, 1.0, 0.0).ravel(), seconds) for mask in (is_low, ~is_low)
    ]
    depths = -1000.0 * (edges[1:] + edges[:-1])[:_CELLS][::-1] / 2.0
    return _Layers(
        seconds, depths,
        responses[0][:, 1:], responses[1][:, 1:],
        responses[0][:, 0], responses[1][:, 0],
        plan.cooler.air_c,
    )  # fmt: skip


def _edges(thick: float) -> Array:
    """Return edges of cells from the seam outward, finest at the seam."""
    return np.asarray(thick * np.linspace(0.0, 1.0, _CELLS + 1) ** 1.5)


def _response(body: Body, start: Array, seconds: Array) -> Array:
    """Return the seam and every cell below it over time, from the seam down."""
    cells = np.eye(body.size)[:_CELLS][::-1]
    probes = [Probe(row, np.zeros(len(body.faces))) for row in cells]
    seam = body.probe(0.5, 0.5, 0.0)
    return cool_body(body, start, surroundings=0.0, seconds=seconds, probes=[seam, *probes])


def _contact(
    stuffs: tuple[Foodstuff, Foodstuff], lower_c: float, upper_c: float, evidence: Evidence
) -> Estimate:
    """Return the temperature at which two bodies meet: each counts by its effusivity."""
    first, second = (np.sqrt(s.conductivity * s.density * s.heat_capacity) for s in stuffs)
    share = float(second / (first + second))
    value = lower_c + share * (upper_c - lower_c)
    low, high = value - share * _POUR_K, value + share * _POUR_K
    return Estimate(value, "°C", low, high, "contact by effusivities", evidence)


def _seam(column: _Layers, lower_c: float, upper_c: float, evidence: Evidence) -> Course:
    middle, low, high = (column.seam(lower_c, upper_c + by) for by in (0.0, -_POUR_K, _POUR_K))
    return Course("seam", column.seconds, middle, low, high, model=_MODEL, evidence=evidence)


def _melted(
    column: _Layers, lower_c: float, upper_c: float, melt: Span, evidence: Evidence
) -> Estimate:
    value = column.melted(lower_c, upper_c, melt.value)
    low = column.melted(lower_c, upper_c - _POUR_K, melt.high)
    high = column.melted(lower_c, upper_c + _POUR_K, melt.low)
    return Estimate(value, "mm", low, high, _MODEL, evidence, ("heat of melting left out",))


def _melts(depth: Estimate) -> Verdict:
    if depth.low is not None and depth.low > 0.0:
        return Verdict.YES
    return Verdict.NO if depth.high == 0.0 else Verdict.CANNOT_TELL


def _window(
    column: _Layers, lower_c: float, melt: Span, upper: Bench, row: int
) -> tuple[float, float] | None:
    """Return the pours between setting too soon and melting the first layer."""
    levels = setting_levels(upper, row)
    least = levels[0].celsius.high + _ABOVE_SET_K if levels else 0.0
    most = _HOTTEST_C
    if np.isfinite(melt.low):
        most = min(most, column.hottest_pour(lower_c, melt.low - _BELOW_MELT_K))
    return (least, most) if least <= most else None


def _text(column: _Layers, lower_c: float, upper_c: float, melt: Span, melts: Verdict) -> str:
    peak = temperature_print(round(float(column.seam(lower_c, upper_c).max()), 1))
    if not np.isfinite(melt.value):
        return f"The seam gets to {peak}. The first layer does not melt."
    at = temperature_print(round(melt.value, 1))
    if melts is Verdict.NO:
        return f"The seam gets to {peak}, and the first layer melts at {at}: it stays whole."
    depth = column.melted(lower_c, upper_c, melt.value)
    if melts is Verdict.YES:
        return (
            f"The seam gets to {peak}: the first layer, melting at {at}, melts {depth:.1f} mm deep."
        )
    return f"The seam gets to {peak}, and the first layer melts near {at}: it may melt."


def _advice(
    window: tuple[float, float] | None, melt: Span, upper_c: float, upper: Bench, row: int
) -> tuple[Advice, ...]:
    if window is None:
        levels = setting_levels(upper, row)
        sets = temperature_print(round(levels[0].celsius.value, 1))
        text = (
            f"There is no pour that fits: this layer sets at {sets}, and warm enough to pour it "
            f"melts the first one, at {temperature_print(round(melt.value, 1))}."
        )
        action = "Chill the first layer more, pour thinner layers, or set the first with an agent "
        action += "that melts hotter."
        return (Advice("no_pour_window", text, action, evidence=PRACTICE),)
    least, most = (temperature_print(round(one)) for one in window)
    if window[0] <= upper_c <= window[1]:
        text = f"Pour between {least} and {most}."
        action = "The warmer end gives the better bond, the cooler one the sharper seam."
        return (Advice("pour_window", text, action, evidence=PRACTICE),)
    hot = upper_c > window[1]
    text = f"Poured at {temperature_print(upper_c)} it " + (
        "may melt the first layer." if hot else "may set before it lies flat."
    )
    return (
        Advice("pour_outside_window", text, f"Pour between {least} and {most}.", evidence=PRACTICE),
    )
