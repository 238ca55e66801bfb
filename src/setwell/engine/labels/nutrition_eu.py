"""The nutrition declaration of the EU."""

from collections.abc import Mapping

from setwell.engine.labels.fiber import fiber_findings
from setwell.engine.labels.panel_amounts import PanelAmounts, panel_amounts
from setwell.engine.labels.panel_blockers import blockers_of
from setwell.engine.labels.panel_results import Blocker, EuPanel, Form, PanelColumn, PanelRow
from setwell.engine.labels.sugars_inside import agreed_rows
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.provenance import Evidence, evidence_join
from setwell.science.panels.energy import sodium_salt
from setwell.science.solution.mixture import alcohol_by_volume
from setwell.tables.labels.panel_tables import EnergyFactor, daily_amounts, energy_factors

INTAKE = "Reference intake of an average adult (8 400 kJ/2 000 kcal)"
_PAIRS = (("saturated_fat", "fat"), ("sugars", "carbohydrate"), ("polyols", "carbohydrate"))
_MOST_GRAMS = 100_000.0
# Above this, drinks need the alcohol in % vol and no nutrition declaration.
_DRINK_ABV = 1.2
_BY_DIFFERENCE = (
    "Polyols and organic acids that nobody analyzed are inside the carbohydrate by difference "
    "and count 17 kJ or 4 kcal per gram."
)
_TOLERANCES = (
    "Tolerances hold for the amount as declared, with the uncertainty of the analysis inside."
)


def eu_panel(
    bench: Bench,
    *,
    portion_g: float | None = None,
    per_ml: bool = False,
    density_g_ml: float | None = None,
    analyzed: Mapping[str, float] | None = None,
    row: int = 0,
) -> EuPanel:
    """Return the EU panel of one candidate of a bench, per 100 g or per 100 ml.

    `portion_g` adds a column per portion. `density_g_ml` is weighed; without it the computed one
    serves. `analyzed` are amounts per 100 g of the finished food, by line such as `carbohydrate`.
    Raises InputError for weights that are not above zero.
    """
    _check("weight of a portion", portion_g)
    _check("density", density_g_ml)
    amounts = panel_amounts(bench, "eu", analyzed=analyzed)
    density = density_g_ml or float(bench.state.water.density.value[row]) / 1000.0
    columns = _columns(portion_g, density if per_ml else None)
    amounts, rows, raised = agreed_rows(amounts, columns, _mixes(), row)
    rows = tuple(r for r in rows if r.key != "polyols" or _is_there(r))
    return EuPanel(
        columns=columns,
        rows=rows,
        fiber=fiber_findings(bench.plan.materials, "eu"),
        intake_sentence=INTAKE,
        notes=(*raised, *_notes(bench, amounts, row, computed=per_ml and density_g_ml is None)),
        blockers=_blockers(amounts, rows, row),
        evidence=evidence_join([*(r.evidence for r in rows), _rules()]),
    )


def _blockers(amounts: PanelAmounts, rows: tuple[PanelRow, ...], row: int) -> tuple[Blocker, ...]:
    shown = {one.key for one in rows}
    return blockers_of(amounts, rows, [pair for pair in _PAIRS if shown.issuperset(pair)], row)


def _check(name: str, value: float | None) -> None:
    if value is not None and not 0.0 < value <= _MOST_GRAMS:
        raise InputError(
            f"The {name} is {value:g}; give a number above 0 and up to {_MOST_GRAMS:,.0f}."
        )


def _columns(portion_g: float | None, density: float | None) -> tuple[PanelColumn, ...]:
    base = (
        PanelColumn("100 g", "per 100 g", 100.0)
        if density is None
        else PanelColumn("100 ml", "per 100 ml", 100.0 * density)
    )
    if portion_g is None:
        return (base,)
    return (base, PanelColumn("portion", f"per portion ({portion_g:.4g} g)", portion_g))


def _mixes() -> dict[str, dict[str, float]]:
    """Return what adds up to energy and salt; negative factors take out the special polyols."""
    factors = energy_factors("eu")
    return {
        "energy_kj": _energy({key: _kj(factor) for key, factor in factors.items()}),
        "energy_kcal": _energy({key: factor.kcal_per_g for key, factor in factors.items()}),
        "salt": {"sodium": float(sodium_salt([1.0])[0])},
    }


def _kj(factor: EnergyFactor) -> float:
    return factor.kj_per_g or 0.0


def _energy(each: Mapping[str, float]) -> dict[str, float]:
    plain = ("fat", "carbohydrate", "fiber", "protein", "alcohol", "organic_acid")
    return {key: each[key] for key in plain} | {
        "polyols": each["polyols"] - each["carbohydrate"],
        "erythritol": each["erythritol"] - each["polyols"],
    }


def _is_there(row: PanelRow) -> bool:
    return row.cells[0].printed.form is not Form.ZERO


def _notes(bench: Bench, amounts: PanelAmounts, row: int, *, computed: bool) -> tuple[str, ...]:
    notes = [_BY_DIFFERENCE, _TOLERANCES]
    if computed:
        notes.append("Density computed without air: weigh 100 ml once to be sure.")
    density = bench.state.water.density.value[row]
    abv = float(alcohol_by_volume(bench.state.composition.share("alcohol_g")[row], density))
    if abv > _DRINK_ABV:
        notes.append(
            f"About {abv:.1f} % vol alcohol, taken as still there: a drink above {_DRINK_ABV} % "
            "states its strength and needs no nutrition declaration."
        )
    if "fiber" not in amounts.analyzed and fiber_findings(bench.plan.materials, "eu"):
        notes.append("The energy counts gums as fiber, 8 kJ or 2 kcal per gram.")
    return tuple(notes)


def _rules() -> Evidence:
    factors = [factor.citation for factor in energy_factors("eu").values()]
    return tuple(dict.fromkeys([*factors, *(d.citation for d in daily_amounts("eu").values())]))
