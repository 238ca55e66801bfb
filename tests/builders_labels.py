"""Hand-made panels and statements for tests of labels, pages and commands."""

from dataclasses import replace
from typing import Any

from setwell.documents.label import LabelHead
from setwell.domain.brief import Market
from setwell.engine.assessment import DietResult, Finding, Severity
from setwell.engine.labels.panel_results import (
    Blocker,
    ContainerServings,
    DailyShare,
    EuPanel,
    FiberFinding,
    Form,
    PanelCell,
    PanelColumn,
    PanelRow,
    Printed,
    ServingSize,
    SimplifiedForm,
    Tolerance,
    UsPanel,
)
from setwell.engine.labels.statement_results import (
    AddedWater,
    AdditiveFinding,
    DeclaredAllergen,
    ListedIngredient,
    QuidCandidate,
    Run,
    Statement,
    ThresholdSum,
)
from setwell.engine.verdict import Verdict
from setwell.provenance import Citation, Estimate, Grade

EVIDENCE = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)
RECALLED = (Citation("common_practice", "recalled", Grade.UNVERIFIED),)
HEAD = LabelHead("Oat set with lime", "version 3", "0123456789abcdef" * 4, "North bench", "dessert")

# Key, label, indent, unit, value, printed, percent of the daily value.
_US = (
    ("calories", "Calories", 0, "kcal", 161.8, "160", ""),
    ("fat", "Total Fat", 0, "g", 8.21, "8 g", "11 %"),
    ("saturated_fat", "Saturated Fat", 1, "g", 5.02, "5 g", "25 %"),
    ("trans_fat", "Trans Fat", 1, "g", 0.21, "0 g", ""),
    ("cholesterol", "Cholesterol", 0, "mg", 26.0, "25 mg", "9 %"),
    ("sodium", "Sodium", 0, "mg", 84.0, "85 mg", "4 %"),
    ("carbohydrate", "Total Carbohydrate", 0, "g", 18.1, "18 g", "7 %"),
    ("fiber", "Dietary Fiber", 1, "g", 0.6, "less than 1 g", "2 %"),
    ("sugars", "Total Sugars", 1, "g", 17.5, "18 g", ""),
    ("added_sugars", "Added Sugars", 2, "g", 12.4, "12 g", "25 %"),
    ("protein", "Protein", 0, "g", 3.9, "4 g", ""),
    ("vitamin_d", "Vitamin D", 0, "mcg", 0.9, "0.9 mcg", "4 %"),
    ("calcium", "Calcium", 0, "mg", 143.0, "140 mg", "10 %"),
    ("iron", "Iron", 0, "mg", 0.1, "0.1 mg", "0 %"),
    ("potassium", "Potassium", 0, "mg", 190.0, "190 mg", "4 %"),
)
_EU = (
    ("energy_kj", "Energy", 0, "kJ", 672.0, "672 kJ"),
    ("energy_kcal", "Energy", 0, "kcal", 160.6, "161 kcal"),
    ("fat", "Fat", 0, "g", 8.2, "8.2 g"),
    ("saturated_fat", "of which saturates", 1, "g", 5.0, "5.0 g"),
    ("carbohydrate", "Carbohydrate", 0, "g", 17.5, "18 g"),
    ("sugars", "of which sugars", 1, "g", 17.5, "18 g"),
    ("protein", "Protein", 0, "g", 3.9, "3.9 g"),
    ("salt", "Salt", 0, "g", 0.21, "0.21 g"),
)
SIMPLIFIED = SimplifiedForm(
    is_allowed=True,
    insignificant=("trans_fat", "iron"),
    kept=("calories", "fat", "sodium", "carbohydrate", "sugars", "protein"),
    sentence="Not a significant source of trans fat, iron.",
    evidence=EVIDENCE,
)


def cell_make(value: float, unit: str, text: str, percent: str = "") -> PanelCell:
    """Return an amount with a range of a tenth to each side."""
    estimate = Estimate(value, unit, 0.9 * value, 1.1 * value, "made by hand", EVIDENCE)
    share = DailyShare(10.0, percent, "78 g", EVIDENCE) if percent else None
    return PanelCell(estimate, Printed(text, Form.VALUE, value), share)


def unknown_make(row: PanelRow, *missing: str) -> PanelRow:
    """Return a row whose amount nobody knows."""
    cells = tuple(
        replace(
            cell,
            estimate=replace(cell.estimate, high=None),
            printed=Printed("unknown", Form.UNKNOWN, None),
            share=None,
        )
        for cell in row.cells
    )
    return replace(row, cells=cells, unknown_in=missing)


def us_panel_make(*, unknown: tuple[str, ...] = (), columns: int = 1, **changes: Any) -> UsPanel:
    """Return a panel of a serving; `unknown` names the rows without a figure."""
    heads = (PanelColumn("serving", "per serving", 128.0),
             PanelColumn("container", "per container", 256.0))[:columns]  # fmt: skip
    rows = [
        PanelRow(key, label, indent, unit, (cell_make(value, unit, text, share),) * columns,
                 is_mandatory=True)
        for key, label, indent, unit, value, text, share in _US
    ]  # fmt: skip
    rows = [unknown_make(row, "oat drink") if row.key in unknown else row for row in rows]
    blockers = tuple(
        Blocker(f"unknown-{key}", f"{key} is unknown in oat drink.", "Ask the supplier.", (key,))
        for key in unknown
    )
    made = UsPanel(
        serving=ServingSize("1/2 cup (128 g)", "1/2 cup", "128 g", 128.0, "1/2 cup",
                            is_open=False, remark="", evidence=EVIDENCE),
        container=ContainerServings(2.0, "2", 256.0, is_one_serving=False,
                                    needs_two_columns=False, evidence=EVIDENCE),
        columns=heads,
        rows=tuple(rows),
        simplified=SIMPLIFIED,
        fiber=(FiberFinding("kappa carrageenan", is_counted=False, grams_per_100g=0.4,
                            text="Not on the list of fibers.", evidence=RECALLED),),
        footnote="The % Daily Value tells how much a nutrient adds to a daily diet.",
        notes=("Weigh half a cup.",),
        blockers=blockers,
        evidence=EVIDENCE,
    )  # fmt: skip
    return replace(made, **changes)


def eu_panel_make(*, unknown: tuple[str, ...] = (), **changes: Any) -> EuPanel:
    """Return a table per 100 g."""
    wide = Tolerance(6.2, 10.2, "6.2 to 10.2 g", is_wide=True, evidence=RECALLED)
    rows = [
        PanelRow(key, label, indent, unit, (cell_make(value, unit, text),), is_mandatory=True,
                 tolerance=wide if key == "fat" else None)
        for key, label, indent, unit, value, text in _EU
    ]  # fmt: skip
    rows = [unknown_make(row, "oat drink") if row.key in unknown else row for row in rows]
    blockers = tuple(
        Blocker(f"unknown-{key}", f"{key} is unknown in oat drink.", "Ask the supplier.", (key,))
        for key in unknown
    )
    made = EuPanel(
        columns=(PanelColumn("per_100g", "per 100 g", 100.0),),
        rows=tuple(rows),
        fiber=(),
        intake_sentence="",
        notes=(),
        blockers=blockers,
        evidence=EVIDENCE,
    )
    return replace(made, **changes)


def additive_make(market: Market, **changes: Any) -> AdditiveFinding:
    """Return one additive below its limit."""
    made = AdditiveFinding(
        market=market, category="dessert", names=("konjac",), e_numbers=("E425",),
        allowed=Verdict.YES, severity=Severity.NOTE, dose_mg_kg=4_000.0, limit_mg_kg=10_000.0,
        text="4 g/kg of at most 10 g/kg.", action="Weigh it exactly.",
        rule="Regulation (EC) 1333/2008, Annex II, 2008 edition", lines=(3,), evidence=RECALLED,
    )  # fmt: skip
    return replace(made, **changes)


def _threshold(substance: str, limit: float) -> ThresholdSum:
    amount = Estimate(1.0, "mg/kg", 0.0, 2.0, "made by hand", EVIDENCE)
    return ThresholdSum(substance, amount, limit, Verdict.NO, is_declared=False, sources=(),
                        unknown_in=(), lines=(), text="Far below the limit.")  # fmt: skip


def statement_make(market: Market = Market.US, **changes: Any) -> Statement:
    """Return a short list with one allergen."""
    is_eu = market is Market.EU
    runs = (Run("Ingredients: water, "), Run("oats", is_emphasized=is_eu), Run(", sugar, konjac"))
    made = Statement(
        market=market,
        category="dessert",
        title="Oat set with lime",
        ingredients=(
            ListedIngredient("oat drink", "oats", 700.0, 70.0, (1,), evidence=EVIDENCE),
            ListedIngredient(
                "konjac", "konjac", 4.0, 0.4, (3,), "thickener", ("E425",), evidence=RECALLED
            ),
        ),
        minor=(),
        minor_phrase="",
        runs=runs,
        allergens=(DeclaredAllergen("gluten", "oats", "check", (1,), ("oat drink",)),),
        contains="" if is_eu else "Contains oats.",
        may_contain="",
        sulfites=_threshold("sulfites", 10.0),
        gluten=_threshold("gluten", 20.0),
        alcohol=None,
        added_water=AddedWater(30.0, 3.5, is_listed=False, text="3.5 % added water, not listed.")
        if is_eu
        else None,
        quid=(QuidCandidate("lime", 2.0, "2 %", "it is in the name", (4,)),),
        additives=(additive_make(market),),
        diets=(DietResult("vegan", Verdict.YES, claimed=True, lines=(), reason=""),),
        questions=(),
        findings=(Finding("x", Severity.WARN, "No species", "Which oats?", "Ask.", (1,)),),
        blocks=(),
        evidence=EVIDENCE,
    )
    return replace(made, **changes)
