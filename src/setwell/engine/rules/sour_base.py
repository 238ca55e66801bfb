"""A base that is itself the acid, such as juice: nobody can add it last."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_materials import acid_columns
from setwell.engine.gelling.acid import loss_laws, loss_rates
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.rules.bench import Bench
from setwell.engine.titration_curve import ph_window
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print, text_quote

# When the acid parts bring more of the water than this, there is no batch without them.
MOST_WATER = 0.8
# Gels of sour fruit, the one least lost to hot acid first by their laws.
_FRUIT_GELS = ("pectin_LM", "pectin_LMA")
# Worth naming where it loses less than this share of what the agent loses at the same heat.
_FAR_LESS = 0.25
# Juice stirred into a hot gel is this much warmer than where it sets [K], and at least this warm.
_ABOVE_SETTING_K, _LEAST_WARM_C = 10.0, 45.0
# Less than this lost to acid is not worth a number.
_NAMED_LOSS = 0.98


@lru_cache(maxsize=256)
def water_content(materials: tuple[Material, ...]) -> NDArray[np.float64]:
    """Return g of water in a gram of each material."""
    content = np.array([m.nutrients[NUTRIENT_INDEX["water_g"]] for m in materials])
    return np.nan_to_num(content / 100.0)


def is_sour_base(bench: Bench, row: int = 0) -> bool:
    """Return whether acid ingredients bring so much of the water that none is left without."""
    materials = bench.plan.materials
    brought = water_content(materials) * bench.state.masses[row]
    total = float(brought.sum())
    return total > 0 and float(brought[acid_columns(materials)].sum()) > MOST_WATER * total


def acid_left_text(bench: Bench, row: int, key: str) -> str:
    """Return what hot acid leaves of an agent by the steps; empty where it is not known."""
    heat = bench.state.agents[key].kept.heat
    value, low, high = (float(part[row]) for part in heat)
    if loss_laws(key) is None or not value < _NAMED_LOSS:
        return ""
    few = "less than 1" if value < 0.005 else f"about {100 * value:.0f}"
    return f"{few} % ({100 * low:.0f} to {100 * high:.0f}) of its strength"


def base_name(bench: Bench, row: int = 0) -> str:
    """Return the name of the acid line that brings the most water."""
    plan = bench.plan
    sour = water_content(plan.materials) * acid_columns(plan.materials)
    brought = bench.state.line_masses[row] * (plan.expansion @ sour)
    reading = plan.readings[plan.used[int(brought.argmax())]]
    if reading.part is not None:
        return text_quote(reading.part.title)
    return reading.line.name or (reading.material.name if reading.material else "base")


def sour_base_action(bench: Bench, row: int, key: str) -> str:
    """Return what can be done where the acid cannot wait."""
    name, sour = bench.name(key), base_name(bench, row)
    warm = temperature_print(_warm_c(bench, row, key))
    left = acid_left_text(bench, row, key)
    loss = f": by these steps hot acid leaves {left}, and the numbers here count that" * bool(left)
    ways = [
        f"The {sour} is the base here and cannot wait. Take plain water for about a fifth of it, "
        f"dissolve the {name} hot in that, and stir it into the rest warmed to {warm}",
        f"Or keep it in the hot {sour} no longer than it needs{loss}; make up for it by the dose",
    ]
    instead = _stands_acid(bench, row, key)
    ways += [f"Or take an agent that stands hot acid far better: {instead}"] if instead else []
    return f"{'. '.join(ways)}. Try a cup."


def _warm_c(bench: Bench, row: int, key: str) -> float:
    set_c = bench.state.agents[key].set_c
    above = _LEAST_WARM_C if set_c is None else float(set_c.value[row]) + _ABOVE_SETTING_K
    return 5.0 * float(np.ceil(max(above, _LEAST_WARM_C) / 5.0)) if np.isfinite(above) else 60.0


def _stands_acid(bench: Bench, row: int, key: str) -> str:
    """Return agents that gel at this pH and lose far less; empty where none is known."""
    ph = np.full((3, 1), float(bench.state.water.ph.value[row]))
    if loss_laws(key) is None:
        return ""
    lost = float(loss_rates(key, ph)[0, 0])
    found = []
    for other in _FRUIT_GELS:
        window = ph_window(other)
        works = window is not None and window[0] <= ph[0, 0] <= window[1]
        if works and float(loss_rates(other, ph)[0, 0]) < _FAR_LESS * lost:
            found.append(agent_rows()[other].name.lower())
    return " or ".join(found)
