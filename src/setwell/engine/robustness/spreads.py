"""What differs between kitchens for one formula, each thing with its spread and its source."""

import numpy as np
from numpy.typing import NDArray

from setwell.domain.amounts import AmountKind
from setwell.domain.steps import StepKind
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.process import batch_temperature
from setwell.engine.robustness.draws import Case, Factor, Kitchens
from setwell.engine.robustness.weighing import PREMIX_ERROR, agent_rows_of, row_error
from setwell.engine.tap_water import TAP_WATER
from setwell.provenance import Evidence
from setwell.science.designs.quasi_random import lognormal_draws, normal_draws, scale_draws
from setwell.tables.rules import lot_spread, spread

Array = NDArray[np.float64]

# Ranges of the tables hold about 95 % of the foods.
_PER_HALF_WIDTH = 1.96 / 2.0
_COLD_C, _HEATED_C, _BOILS_C = 15.0, 50.0, 98.0
_CALCIUM_G_MOL, _MAGNESIUM_G_MOL = 40.078, 24.305
_MINERALS = ("calcium", "magnesium", "potassium", "sodium")


def factors_of(case: Case) -> tuple[Factor, ...]:
    """Return everything that differs between kitchens and can matter for this formula."""
    agents = agent_rows_of(case.plan)
    rows = [row for row, grams in enumerate(case.line_masses) if grams > 0]
    found = [
        _weights("agent_scale", "weighing the agents", [row for row in rows if row in agents]),
        _weights("scale", "weighing the rest", [row for row in rows if row not in agents]),
        _lots(case),
    ]
    if _hottest(case) > _HEATED_C:
        found += [_heat(), _stirring(), _steam()]
    if _tap_share(case) > 0:
        found.append(_water())
    if _relative_half_width(case, "calcium_mg") > 0 or _relative_half_width(case, "protein_g") > 0:
        found.append(_composition())
    if case.measured_ph is None and bool(case.state.water.acidity.pulls.any()):
        found.append(_acid())
    found.append(_cold())
    return tuple(factor for factor in found if factor.columns)


def _cited(*keys: str) -> Evidence:
    return tuple(dict.fromkeys(spread(key).citation for key in keys))


def _weights(key: str, name: str, rows: list[int]) -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        for column, row in enumerate(rows):
            u, grams = points[:, column], case.line_masses[row]
            error = row_error(case.plan, row)
            if row in case.premixed:
                masses = grams * (1.0 + PREMIX_ERROR * (2.0 * u - 1.0))
            elif error is not None:
                masses = grams * lognormal_draws(u, log_deviation=error)
            else:
                masses = scale_draws(u, target_mass=grams, readability=case.profile.scale_g)
            kitchens.masses[:, row] = masses

    def said(case: Case) -> str:
        counted = {case.plan.readings[case.plan.used[row]].kind for row in rows}
        also = " cups and pieces by eye" if counted & {AmountKind.VOLUME, AmountKind.COUNT} else ""
        return f"scale that shows {case.profile.scale_g:g} g steps" + (also and f";{also}")

    return Factor(
        key, name, len(rows), apply, said, _cited("scale_resolution", "cup_measure", "piece_weight")
    )


def _lots(case: Case) -> Factor:
    keys = tuple(case.state.agents)

    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        for column, key in enumerate(keys):
            width = lot_spread(key).value * case.ease("lot")
            # Both a weak lot and lumps leave less of it, so they meet in one factor.
            factor = lognormal_draws(points[:, column], log_deviation=width)
            kitchens.strength[key] = kitchens.strength.get(key, 1.0) * factor

    def said(case: Case) -> str:
        widths = sorted({100.0 * lot_spread(key).value * case.ease("lot") for key in keys})
        return "lots differ by " + " and ".join(f"±{width:.2g} %" for width in widths)

    evidence = tuple(dict.fromkeys(lot_spread(key).citation for key in keys))
    return Factor("lot", "strength of the lot", len(keys), apply, said, evidence)


def _heat() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        z = normal_draws(points[:, 0]) * case.ease("heat")
        if _hottest(case) >= _BOILS_C:
            # No pot boils hotter than at sea level.
            kitchens.hotter_k -= spread("boil_heat").value * np.abs(z)
        elif case.profile.thermometer_error_k is None:
            kitchens.hotter_k += np.minimum(spread("eye_heat").value * z, _BOILS_C - _hottest(case))
        else:
            half = case.profile.thermometer_error_k * case.ease("heat")
            kitchens.hotter_k += half * (2.0 * points[:, 0] - 1.0)

    def said(case: Case) -> str:
        if _hottest(case) >= _BOILS_C:
            return "water boils colder in high places"
        if case.profile.thermometer_error_k is None:
            return f"heat judged by eye, ±{spread('eye_heat').value:g} K"
        return f"thermometer within ±{case.profile.thermometer_error_k:g} K"

    return Factor("heat", "heat of the pot", 1, apply, said, _cited("eye_heat", "probe_error"))


def _stirring() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        care, ease = case.profile.care.value, case.ease("stirring")
        timing = spread(f"timing_{care}").value * ease
        kitchens.longer_log += timing * normal_draws(points[:, 0])
        kitchens.hotter_k -= spread(f"uneven_{care}").value * ease * points[:, 1]
        kept = 1.0 - spread(f"clumps_{care}").value * ease * points[:, 2]
        for key in case.state.agents:
            kitchens.strength[key] = kitchens.strength.get(key, 1.0) * kept

    def said(case: Case) -> str:
        return f"{case.profile.care.value} stirring and timing"

    return Factor(
        "stirring", "stirring, lumps and timing", 3, apply, said,
        _cited("timing_usual", "uneven_usual", "clumps_usual"),
    )  # fmt: skip


def _steam() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        written = case.plan.evaporation
        if written > 0:
            width = spread("evaporation_written").value * case.ease("steam")
            kitchens.evaporation = written * lognormal_draws(points[:, 0], log_deviation=width)
        else:
            half = _unwritten(case) * case.ease("steam")
            kitchens.evaporation = np.maximum(half * (2.0 * points[:, 0] - 1.0), 0.0)

    def said(case: Case) -> str:
        if case.plan.evaporation > 0:
            return "steam differs by about a factor of 1.5 from pot to pot"
        return f"up to {100.0 * _unwritten(case):g} % leaves as steam that nobody wrote down"

    return Factor("steam", "steam", 1, apply, said, _cited("evaporation_written"))


def _unwritten(case: Case) -> float:
    boils = any(step.kind is StepKind.BOIL for step in case.steps)
    return spread("evaporation_boiled" if boils else "evaporation_heated").value


def _water() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        low, high = case.profile.water_low, case.profile.water_high
        share, own = _tap_share(case), _tap_ions(case)
        hardness = low + (high - low) * points[:, 0]
        part = spread("calcium_of_hardness").value
        for metal, drawn in (("calcium", part * hardness), ("magnesium", (1.0 - part) * hardness)):
            kitchens.added_mmol[metal] = case.ease("water") * share * (drawn - own[metal])

    def said(case: Case) -> str:
        low, high = case.profile.water_low, case.profile.water_high
        if low == high:
            return f"water of {low:g} mmol/L of calcium and magnesium"
        return f"tap water from {low:g} to {high:g} mmol/L of calcium and magnesium"

    return Factor("water", "hardness of the water", 1, apply, said, _cited("calcium_of_hardness"))


def _composition() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        scale = spread("milk_composition").value * case.ease("composition") * _PER_HALF_WIDTH
        minerals, protein = normal_draws(points[:, 0]), normal_draws(points[:, 1])
        for metal in _MINERALS:
            width = scale * _relative_half_width(case, f"{metal}_mg")
            kitchens.metal_factor[metal] = np.maximum(1.0 + width * minerals, 0.0)
        width = scale * _relative_half_width(case, "protein_g")
        kitchens.milk_protein = np.maximum(1.0 + width * protein, 0.0)

    def said(case: Case) -> str:
        width = 100.0 * _relative_half_width(case, "calcium_mg")
        return f"minerals and protein of the foods, calcium ±{width:.2g} %"

    return Factor(
        "composition", "composition of the foods", 2, apply, said, _cited("milk_composition")
    )


def _acid() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        width = _ph_half_width(case) * spread("ph_of_food").value * _PER_HALF_WIDTH
        kitchens.ph += width * case.ease("ph") * normal_draws(points[:, 0])

    def said(case: Case) -> str:
        return f"pH of the foods moves the batch by ±{_ph_half_width(case):.1f}"

    return Factor("ph", "acidity of the foods", 1, apply, said, _cited("ph_of_food"))


def _cold() -> Factor:
    def apply(points: Array, kitchens: Kitchens, case: Case) -> None:
        profile, process = case.profile, case.state.process
        middle = 0.5 * (profile.fridge_low_c + profile.fridge_high_c)
        half = 0.5 * (profile.fridge_high_c - profile.fridge_low_c) * case.ease("cold")
        planned = float(process.coldest_c[0])
        fridge = half * (2.0 * points[:, 0] - 1.0)
        if -1.0 < planned < _COLD_C:
            # A recipe that says 4 °C is put into the fridge there is.
            fridge = fridge + (middle - planned) * case.ease("cold")
        kitchens.coldest_k += fridge
        served = float(case.state.serving_c[0])
        table = spread("chilled_serving").value * (2.0 * points[:, 1] - 1.0) * case.ease("cold")
        kitchens.serving_k += (fridge if served < _COLD_C else 0.0) + table

    def said(case: Case) -> str:
        return f"fridges from {case.profile.fridge_low_c:g} to {case.profile.fridge_high_c:g} °C"

    return Factor("cold", "fridge and table", 2, apply, said, _cited("chilled_serving"))


def _hottest(case: Case) -> float:
    """Return the hottest the steps make the batch, in °C; 20 where none heats it."""
    told = [degrees for step in case.steps if (degrees := batch_temperature(step)) is not None]
    return max(told, default=20.0)


def _ph_half_width(case: Case) -> float:
    return min(float(np.hypot.reduce(case.state.water.acidity.pulls[0])), 2.0)


def _relative_half_width(case: Case, nutrient: str) -> float:
    place = NUTRIENT_INDEX[nutrient]
    amount = float(case.state.composition.amount[0, place])
    half = float(case.state.composition.half_width[0, place])
    return min(half / amount, 1.0) if amount > 0 else 0.0


def _tap_column(case: Case) -> int | None:
    keys = [material.key for material in case.plan.materials]
    return keys.index(TAP_WATER) if TAP_WATER in keys else None


def _tap_share(case: Case) -> float:
    """Return the tap water's part of all water in the batch."""
    column, water = _tap_column(case), float(case.state.water.water_g[0])
    if column is None or water <= 0:
        return 0.0
    return max(float(case.state.masses[0, column]) / water, 0.0)


def _tap_ions(case: Case) -> dict[str, float]:
    """Return what is already counted as in the tap water, in mmol/kg."""
    column = _tap_column(case)
    if column is None:
        return {"calcium": 0.0, "magnesium": 0.0}
    nutrients = np.nan_to_num(case.plan.materials[column].nutrients)
    return {
        metal: float(nutrients[NUTRIENT_INDEX[f"{metal}_mg"]]) * 10.0 / molar
        for metal, molar in (("calcium", _CALCIUM_G_MOL), ("magnesium", _MAGNESIUM_G_MOL))
    }
