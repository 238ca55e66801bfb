"""Water activity, ice, boiling in the mountains and alcohol."""

from collections.abc import Iterable

from setwell.domain.steps import StepKind
from setwell.engine.chemistry_results import Consequence, Tone
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.solids import solids_evidence
from setwell.engine.spans import Spans
from setwell.provenance import evidence_join
from setwell.tables.agents import agent_rows
from setwell.tables.rules import tcs_cells
from setwell.units import temperature_change_print, temperature_print

# Air thins so that water boils about 1 °C cooler for every 300 m (common practice) [m/°C].
_METERS_PER_DEGREE = 300.0
# Higher than this hardly anyone cooks for guests [m].
_HIGHEST_KITCHEN_M = 3000.0
_METERS_PER_FOOT = 0.3048
_FREEZER_C = -18.0
# Gels that let go of water after thawing (common practice).
_WEEPING = frozenset({"agar", "kappa_carrageenan", "processed_eucheuma", "gellan_LA"})
# Alcohol in % vol: worth a word, and where agents begin to suffer (common practice).
_SOME_ALCOHOL, _MUCH_ALCOHOL = 0.5, 15.0
# Where spirits change boiling and freezing, % vol.
_LITTLE_ALCOHOL = 1.0


def water_consequences(bench: Bench, row: int) -> Iterable[Consequence]:
    """Return what the state of the water means."""
    water = bench.state.water
    if water.acidity.is_solved[row]:
        yield _keeping(bench, row)
        if float(water.alcohol_by_volume.value[row]) <= _LITTLE_ALCOHOL:
            yield _freezing(bench, row)
            yield from _boiling(bench, row)
    if float(water.alcohol_by_volume.value[row]) > _SOME_ALCOHOL:
        yield _alcohol(bench, row)


def _keeping(bench: Bench, row: int) -> Consequence:
    """Hold water activity and pH, at their unsafe ends, against the table of the Food Code."""
    activity, ph = bench.state.water.solids.water_activity, bench.state.water.ph
    wet, mild = float(activity.high[row]), float(ph.high[row])
    cell = next(
        (cell for cell in tcs_cells() if cell.table == "B" and cell.contains(wet, mild)), None
    )
    said = (
        f"Water activity {_span(activity, row, 3)}. "
        f"Taken at its unsafe end (up to {wet:.3f}, and pH up to {mild:.1f}), "
    )
    if cell is None or cell.needs_assessment:
        said += (
            "table B of the FDA Food Code leaves it among the foods to hold cold or hot, unless an "
            "assessment of the product shows otherwise."
        )
    else:
        said += (
            "table B of the FDA Food Code would ask for no further control if both were measured; "
            "this estimate frees nothing from the cold."
        )
    said += " This is no shelf life."
    citations = () if cell is None else (cell.citation,)
    return Consequence("Keeping", said, Tone.NOTE, evidence_join([citations, solids_evidence()]))


def _freezing(bench: Bench, row: int) -> Consequence:
    freezing = bench.state.water.solids.freezing_c
    begins = float(freezing.value[row])
    said = (
        f"Ice begins at about {temperature_print(round(begins, 1))}, between "
        f"{freezing.low[row]:.1f} and {freezing.high[row]:.1f} °C. "
    )
    if begins < _FREEZER_C:
        said += f"A freezer at {temperature_print(_FREEZER_C)} leaves it unfrozen."
    else:
        said += f"A freezer at {temperature_print(_FREEZER_C)} turns most of its water to ice."
    freezes = any(step.kind is StepKind.FREEZE for step in bench.steps)
    weeping = [bench.name(key) for key in bench.agents if key in _WEEPING]
    is_risky = freezes and bool(weeping) and begins >= _FREEZER_C
    if is_risky:
        said += f" The steps freeze it, and {' and '.join(weeping)} weeps after thawing."
    return Consequence(
        "In the freezer",
        said,
        Tone.WATCH if is_risky else Tone.NOTE,
        evidence_join([solids_evidence(), PRACTICE]),
    )


def _boiling(bench: Bench, row: int) -> Iterable[Consequence]:
    """Say from what altitude on the batch boils before an agent is hot enough."""
    boils = float(bench.state.water.solids.boiling_c.value[row])
    hot = {k: needed_c(k) for k in bench.agents if not agent_rows()[k].is_cold_soluble}
    if not hot:
        return
    key = max(hot, key=lambda agent: hot[agent])
    reach = max(0.0, (boils - hot[key]) * _METERS_PER_DEGREE)
    if reach > _HIGHEST_KITCHEN_M:
        return
    altitude = 100.0 * round(reach / 100.0)
    feet = 500.0 * round(altitude / _METERS_PER_FOOT / 500.0)
    yield Consequence(
        "Boiling in the mountains",
        f"It boils at {temperature_print(round(boils, 1))} at sea level and about "
        f"{temperature_change_print(1.0)} cooler for each 300 m (1,000 ft). {bench.name(key)} is "
        f"at its surest at {temperature_print(hot[key])}: above about {altitude:,.0f} m "
        f"({feet:,.0f} ft) a boil stays below that, so boil longer.",
        Tone.NOTE,
        evidence_join([solids_evidence(), PRACTICE, bench.state.agents[key].origins.hydration]),
    )


def _alcohol(bench: Bench, row: int) -> Consequence:
    strength = bench.state.water.alcohol_by_volume
    is_much = bool(bench.agents) and float(strength.high[row]) > _MUCH_ALCOHOL
    said = f"{_span(strength, row, 1)} % vol, none counted as cooked off. "
    if is_much:
        said += (
            "Most agents dissolve badly in this much alcohol: hydrate them in the water part and "
            "add the spirit last, cool."
        )
    else:
        said += "Agents stand this much; boiling and freezing shift a little."
    return Consequence("Alcohol", said, Tone.WATCH if is_much else Tone.NOTE, PRACTICE)


def _span(spans: Spans, row: int, places: int) -> str:
    value, low, high = (float(part[row]) for part in spans)
    return f"{value:.{places}f} ({low:.{places}f} to {high:.{places}f})"
