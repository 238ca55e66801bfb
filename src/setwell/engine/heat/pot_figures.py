"""The numbers of a pot, with their ranges, and what kind of heating it is."""

import numpy as np

from setwell.domain.process_plan import PotStirring
from setwell.engine.assessment import Figure
from setwell.engine.heat.pot_setup import PotTask
from setwell.engine.heat.pot_track import MODEL, PotTrack, track_evidence
from setwell.provenance import Estimate
from setwell.units import mass_print, temperature_change_print

DIFFERENCE_FLAG = "differences between the zones are good to about ±40 %"
THICK_FLAG = "thicker than the flow curve was drawn for"
SCALED_FLAG = "weight of the plan, not of the formula"
# In a pot at rest most of the fall lies within the liquid instead of at its faces.
_REST_SHARE, _REST_K = 0.3, 2.0

REGIMES = {
    "stirred": "Stirred all the time: one temperature throughout, except right at the bottom.",
    "now and then": "Stirred now and then: in between it separates into a hot bottom and a cooler "
    "top again.",
    "convection": "At rest: warm liquid rises by itself and mixes the middle; base and surface "
    "keep their own temperatures.",
    "conduction": "At rest and too thick to move: heat creeps up layer by layer, which takes hours "
    "in a deep pot.",
    "boiling": "Boiling: the bubbles stir it.",
}


def regime_of(task: PotTask, track: PotTrack) -> str:
    """Return what carries the heat in the middle kitchen when the pot is done."""
    way = track.stirring
    if float(track.at_end(track.zones[1])[0]) >= task.boiling_c - 1.0:
        return "boiling"
    if way not in {PotStirring.NONE, PotStirring.OCCASIONAL}:
        return "stirred"
    if way is PotStirring.OCCASIONAL:
        return "now and then"
    inside = float(track.at_end(track.inside_k)[0])
    whole = float(track.at_end(track.base - track.zones[2])[0])
    return "conduction" if inside > max(_REST_SHARE * whole, _REST_K) else "convection"


def pot_figures(task: PotTask, track: PotTrack) -> tuple[Figure, ...]:
    """Return the figures to show."""
    flags = (SCALED_FLAG,) if task.is_scaled else ()
    figures = [
        _plain("mass", "In the pot", 1000.0 * task.mass_kg, "g", flags, _later(task)),
        _plain("depth", "Stands deep", 1000.0 * task.depth, "mm"),
        Figure("power", "Reaches the food", _power(task)),
        Figure("thickness", "How thick it is in the hot pot", _thickness(task),
               "Read at the weak pull of rising liquid, not at that of a spoon."),
        Figure("difference", "Bottom above the coldest part when done", _difference(task, track),
               f"The model of the zones is {DIFFERENCE_FLAG.partition(' are ')[2]}; "
               "no measured kitchen pot was found to check it."),
        Figure("base", "Inside of the pot's bottom, at its hottest", _base(task, track),
               f"{temperature_change_print(round(_above(task, track)))} above what the "
               "thermometer shows."),
        Figure("evaporation", "Leaves as steam", _lost_pct(task, track)),
    ]  # fmt: skip
    if track.stirring is PotStirring.STEAM:
        figures.append(Figure("condensate", "Water that the steam adds", _condensate(task, track)))
    return tuple(figures)


def evaporated(task: PotTask, track: PotTrack) -> Estimate:
    """Return the steam that has left when the pot is done."""
    return _over_cases(1000.0 * track.at_end(track.vapor_kg), "g", task, track)


def _lost_pct(task: PotTask, track: PotTrack) -> Estimate:
    return _over_cases(100.0 * track.at_end(track.vapor_kg) / task.whole_kg, "%", task, track)


def _condensate(task: PotTask, track: PotTrack) -> Estimate:
    return _over_cases(1000.0 * track.at_end(track.condensate_kg), "g", task, track)


def _difference(task: PotTask, track: PotTrack) -> Estimate:
    spread = track.at_end(track.zones.max(axis=0) - track.coldest)
    return _over_cases(spread, "K", task, track, (DIFFERENCE_FLAG,))


def _base(task: PotTask, track: PotTrack) -> Estimate:
    within = track.seconds[:, None] <= track.last + 1.0
    hottest = np.where(within, track.base, -np.inf).max(axis=0)
    return _over_cases(hottest, "°C", task, track, (DIFFERENCE_FLAG,))


def _above(task: PotTask, track: PotTrack) -> float:
    return max(_base(task, track).value - task.target_c, 0.0)


def _over_cases(
    values: np.ndarray, unit: str, task: PotTask, track: PotTrack, flags: tuple[str, ...] = ()
) -> Estimate:
    evidence = track_evidence(task, track)
    if task.liquid.is_extrapolated:
        flags = (*flags, THICK_FLAG)
    low, high = float(values.min()), float(values.max())
    return Estimate(float(values[0]), unit, low, high, MODEL, evidence, flags)


def _power(task: PotTask) -> Estimate:
    share, watts = task.efficiency, task.plan.hob.power_w
    low, high = share.low or share.value, share.high or share.value
    return Estimate(
        share.value * watts, "W", low * watts, high * watts, share.model, share.evidence
    )


def _thickness(task: PotTask) -> Estimate:
    middle, thin, thick = task.liquid.viscosity_at(task.target_c)
    flags = (THICK_FLAG,) if task.liquid.is_extrapolated else ()
    middle, thin, thick = (1000.0 * one for one in (middle, thin, thick))
    return Estimate(middle, "mPa·s", thin, thick, MODEL, task.food.evidence, flags)


def _later(task: PotTask) -> str:
    """Say what is not in the pot while it is heated."""
    left_out = 1000.0 * (task.whole_kg - task.mass_kg)
    if left_out < 0.001 * task.whole_kg * 1000.0:
        return ""
    return f"{mass_print(left_out)} go in after the heat, by the steps, and are not counted here."


def _plain(
    key: str, label: str, value: float, unit: str, flags: tuple[str, ...] = (), note: str = ""
) -> Figure:
    estimate = Estimate(value, unit, value, value, "weighed and measured", (), flags)
    return Figure(key, label, estimate, note)
