"""Potassium and free calcium against what the agents want, and who holds the calcium."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.acid_side import system_index
from setwell.engine.chemistry_results import Consequence, Tone
from setwell.engine.free_ions import binding_evidence
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.material import MINERALS, NUTRIENT_INDEX
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.tap_water import TAP_WATER
from setwell.provenance import Evidence, evidence_join
from setwell.tables.solution import complexes

# Alginate begins to thicken and lump with little more free calcium than this (common practice,
# no source) [mmol/kg water].
_ALGINATE_CALCIUM = 1.0
_CALCIUM_G_MOL = 40.078
_CALCIUM_AGENTS = frozenset(
    {"iota_carrageenan", "gellan_LA", "sodium_alginate", "pectin_LM", "pectin_LMA"}
)
_SALT_NAMES = {"phosphoric": "phosphate", "tartaric": "tartrate", "sulfuric": "sulfate"}
# Less of an acid than this holds nothing worth naming [mol/kg water].
_LITTLE_ACID = 5e-4
# Tap water that brings this share of the calcium decides what a hard or a soft one changes.
_WATER_COUNTS = 0.3


def ion_consequences(bench: Bench, row: int) -> Iterable[Consequence]:
    """Return what the ions mean for each agent that depends on them."""
    if not bench.state.water.acidity.is_solved[row]:
        return
    for key in ("kappa_carrageenan", "processed_eucheuma"):
        if key in bench.agents:
            yield _potassium(bench, key, row)
    wanting = [key for key in bench.agents if key in _CALCIUM_AGENTS]
    for key in wanting:
        yield _calcium(bench, key, row)
    if wanting:
        yield from _tap_water(bench, wanting, row)


def _potassium(bench: Bench, key: str, row: int) -> Consequence:
    potassium = bench.state.water.ions["potassium"]
    best = parameter("kappa_carrageenan", "optimum_potassium")
    low, high = 1000.0 * best.low, 1000.0 * best.high
    value = float(potassium.value[row])
    is_inside = low <= value <= high
    if is_inside:
        meaning = "about as firm as ions make it"
    elif value < low:
        meaning = "there is room for a firmer gel that sets warmer"
    else:
        meaning = "more than that makes it weaker again"
    text = (
        f"{_amount(potassium, row)} of potassium, the gum's own included. {bench.name(key)} is "
        f"firmest near {1000 * best.value:.0f} ({low:.0f} to {high:.0f}): {meaning}. Calcium "
        "counts about a third as much, sodium hardly."
    )
    evidence = evidence_of(
        best, *(parameter("kappa_carrageenan", "potassium_equivalent", ion) for ion in MINERALS)
    )
    return Consequence(
        f"{bench.name(key)} and potassium", text, Tone.GOOD if is_inside else Tone.NOTE, evidence
    )


def _calcium(bench: Bench, key: str, row: int) -> Consequence:
    free = bench.state.water.free.calcium
    name = bench.name(key)
    wants, tone, evidence = _wish(bench, key, row)
    text = f"{_amount(free, row)} of calcium is free{_holders(bench, row)}. {wants}"
    return Consequence(
        f"{name} and calcium", text, tone, evidence_join([binding_evidence(), evidence])
    )


def _wish(bench: Bench, key: str, row: int) -> tuple[str, Tone, Evidence]:
    """Return what an agent wants of calcium, whether it has it, and who says so."""
    name = bench.name(key)
    free = bench.state.water.free.calcium
    value = float(free.value[row])
    if key == "sodium_alginate":
        is_early = float(free.high[row]) > _ALGINATE_CALCIUM
        said = (
            f"{name} gels wherever it meets calcium: above about {_ALGINATE_CALCIUM:g} it lumps "
            "before it is dissolved, so dissolve it in soft water or bind the calcium first."
        )
        return said, Tone.WATCH if is_early else Tone.GOOD, PRACTICE
    if key == "gellan_LA":
        best = parameter(key, "best_calcium")
        said = (
            f"{name} is firmest near {best.value:g} ({best.low:g} to {best.high:g}); calcium that "
            "is free before it is dissolved makes it want more heat."
        )
        return said, _tone(value, best.low, best.high), evidence_of(best)
    if key == "iota_carrageenan":
        at = parameter(key, "reference_calcium")
        slope = parameter(key, "setting_temperature_slope")
        said = (
            f"{name} is described for {at.value:g}; each tenfold more sets it about "
            f"{slope.value:g} °C ({1.8 * slope.value:.0f} °F) warmer."
        )
        return said, _tone(value, at.value / 10.0, at.value * 10.0), evidence_of(at, slope)
    return _per_gram(bench, key, row)


def _per_gram(bench: Bench, key: str, row: int) -> tuple[str, Tone, Evidence]:
    """Low methoxyl pectin counts calcium by its own weight."""
    wish: Parameter = parameter(key, "calcium_per_gram")
    grams = bench.state.masses[row][list(bench.agents[key].columns)].sum()
    milligrams = (
        bench.state.water.free.calcium.value[row] * bench.state.water.water_g[row] / 1000.0
    ) * _CALCIUM_G_MOL
    there = float(milligrams / grams) if grams > 0 else 0.0
    said = (
        f"That is {there:.0f} mg for each gram of {bench.name(key)}, which wants about "
        f"{wish.value:g} ({wish.low:g} to {wish.high:g})."
    )
    return said, _tone(there, wish.low, wish.high), evidence_of(wish)


def _tone(value: float, low: float, high: float) -> Tone:
    return Tone.GOOD if low <= value <= high else Tone.WATCH


def _holders(bench: Bench, row: int) -> str:
    """Return how much of the dissolved calcium is held, and by whom."""
    held = 100.0 * float(bench.state.water.free.calcium_held[row])
    if held < 1.0:
        return "; no acid or milk here holds it"
    names = _acid_holders(bench, row)
    brought = bench.state.masses[row] > 0
    if any(
        is_there and m.group in {"dairy", "cheese"} and m.has_allergen("milk")
        for m, is_there in zip(bench.plan.materials, brought, strict=True)
    ):
        names.insert(0, "the salts of the milk")
    by = f" by {' and '.join(names[:3])}" if names else ""
    return f"; about {held:.0f} % of what is dissolved is held{by}"


def _acid_holders(bench: Bench, row: int) -> list[str]:
    """Return the acids that hold calcium here, the strongest first."""
    acids = bench.state.water.acidity
    strength: dict[str, float] = {}
    for pair in complexes():
        index = system_index().get(pair.acid)
        if pair.cation != "calcium" or index is None:
            continue
        amount, charge = float(acids.totals[row, index]), float(acids.charges[row, index])
        # Only a form that carries its charge at this pH holds anything.
        if amount > _LITTLE_ACID and abs(charge) >= abs(pair.charge) - 0.5:
            strength[pair.acid] = max(strength.get(pair.acid, 0.0), amount * 10.0**pair.log_k)
    strong = [acid for acid, bond in strength.items() if bond > 0.1]
    return [
        _SALT_NAMES.get(acid, f"{acid.removesuffix('ic')}ate")
        for acid in sorted(strong, key=lambda acid: -strength[acid])
    ]


def _tap_water(bench: Bench, wanting: list[str], row: int) -> Iterable[Consequence]:
    masses = bench.state.masses[row]
    content = np.array(
        [np.nan_to_num(m.nutrients[NUTRIENT_INDEX["calcium_mg"]]) for m in bench.plan.materials]
    )
    is_tap = np.array([m.table_key == TAP_WATER for m in bench.plan.materials], dtype=np.bool_)
    tapped = float(masses[is_tap] @ content[is_tap]) / 100.0 / _CALCIUM_G_MOL
    water = float(bench.state.water.water_g[row]) / 1000.0
    dissolved = float(bench.state.water.free.dissolved["calcium"].value[row])
    from_tap = tapped / water if water > 0 else 0.0
    if from_tap <= 0 or from_tap < _WATER_COUNTS * dissolved:
        return
    names = " and ".join(bench.name(key) for key in wanting)
    evidence = evidence_join(m.evidence for m in bench.plan.materials if m.table_key == TAP_WATER)
    yield Consequence(
        "Hard or soft water",
        f"The tap water brings {from_tap:.2g} of the {dissolved:.2g} mmol of calcium in each kg "
        f"of water here. In a town with harder or softer water {names} will behave otherwise: "
        "set the hardness in the settings, or use water low in minerals and add the salt.",
        Tone.NOTE,
        evidence,
    )


def _amount(ion: Spans, row: int) -> str:
    value, low, high = (float(part[row]) for part in ion)
    return f"{value:.2g} mmol/kg water ({low:.2g} to {high:.2g})"
