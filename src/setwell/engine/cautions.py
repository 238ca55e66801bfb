"""Safety cautions that go with a formula."""

from collections.abc import Iterator

import numpy as np

from setwell.engine.assessment import AllergenResult, Caution
from setwell.engine.gelling.state import NO
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.eggs import egg_is_cooked, egg_lines
from setwell.tables.agents import agent_rows
from setwell.tables.rules import cautions as caution_table
from setwell.tables.rules import mini_cup_bans

# A portion that goes into the mouth whole, mL (our judgment, no source).
_BITE_ML = 45.0
# Foods that spoil when they cool slowly or stand warm.
_PERISHABLE = frozenset({"dairy", "cheese", "egg", "plant", "stock", "legume", "protein"})
_NEVER_GEL = frozenset({"thickener", "emulsifier"})
_THICKENERS = frozenset({"thickener", "thickener and gel"})
# Spirits catch fire where they are warm and strong enough (our judgment) [% vol, °C].
_BURNS_PCT, _BURNS_C = 15.0, 40.0


def cautions(
    bench: Bench, found: tuple[AllergenResult, ...], *, is_bite: bool = False
) -> tuple[Caution, ...]:
    """Return the cautions of a formula, in a fixed order, erring on the safe side.

    `is_bite` is where it is known to come in bites although the formula names no molds.
    """
    table = caution_table()
    wanted = dict.fromkeys(_codes(bench, found, is_bite=is_bite))
    return tuple(
        Caution(code, table[code].topic, table[code].text, (table[code].citation,))
        for code in wanted
    )


def _codes(bench: Bench, found: tuple[AllergenResult, ...], *, is_bite: bool) -> Iterator[str]:
    if not bench.plan.used:
        return
    if egg_lines(bench) and not egg_is_cooked(bench).all():
        yield "raw_egg"
        yield "consumer_advisory"
    if found:
        yield "allergens"
    if "gelatin_fish_cold" in bench.agents:
        yield "allergen_fish_gelatin"
    yield from _keeping(bench)
    if bench.agents:
        yield "food_grade"
        yield from _shapes(bench, is_bite=is_bite)
        yield "infants"
    if _thickens(bench):
        yield "swallowing_disorders"


def _thickens(bench: Bench) -> bool:
    """True where a thickener is in, alone or in a ready blend, or anything thickens a liquid."""
    rows = agent_rows()
    parts = [part for key in bench.agents for part in (rows[key].parts or (key,))]
    texture = bench.state.texture
    is_liquid = texture.flow is not None and int(texture.sets[0]) == NO
    return is_liquid or any(rows[part].kind in _THICKENERS for part in parts)


def _keeping(bench: Bench) -> Iterator[str]:
    """Cooling, holding, alcohol and acid."""
    materials = bench.plan.materials
    groups = {material.group for material in materials}
    perishable = bool(groups & _PERISHABLE) or any(m.group == "own" for m in materials)
    if perishable or bench.agents:
        yield "cooling"
        yield "cold_holding"
    served = bench.state.process.serving_c
    if served is not None and served >= 45.0:
        yield "hot_holding"
    if float(bench.state.water.alcohol_by_volume.value[0]) > 0.5:
        yield "alcohol"
    yield from _burns(bench)
    if float(bench.state.water.ph.low[0]) < 4.6:
        yield "acid_claim"


def _burns(bench: Bench) -> Iterator[str]:
    is_strong = float(bench.state.water.alcohol_by_volume.high[0]) >= _BURNS_PCT
    if is_strong and float(np.nan_to_num(bench.state.process.peak_c).max()) >= _BURNS_C:
        yield "alcohol_heat"


def _shapes(bench: Bench, *, is_bite: bool) -> Iterator[str]:
    gels = [key for key in bench.agents if agent_rows()[key].kind not in _NEVER_GEL]
    molds = bench.formula.molds
    is_bite = is_bite or (molds is not None and molds.volume_ml <= _BITE_ML)
    if gels and (is_bite or molds is None):
        yield "choking_shape"
    if is_bite and any(key in mini_cup_bans() for key in bench.agents):
        yield "mini_cup"
    if any("konjac" in key for key in bench.agents):
        yield "konjac"
