"""Hand-made assessments for tests of cards, pages and commands."""

from dataclasses import replace
from typing import Any

from setwell.domain.formula import Diet, Formula, Goal, MoldPlan
from setwell.engine.assessment import (
    AgentGel,
    AgentResult,
    AllergenResult,
    Assessment,
    BatchSize,
    Caution,
    CostResult,
    DietResult,
    Figure,
    Finding,
    LineReading,
    NutrientFigure,
    Severity,
    StepReading,
    Texture,
    Verdict,
)
from setwell.provenance import Citation, Estimate, Grade

EVIDENCE = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)

INGREDIENTS = """Base:
600 g oat drink
1 cup coconut milk
60 g sugar
4 g kappa carrageenan
2 g iota carrageenan
1 g fine salt
Finish:
20 g lime juice"""

STEPS = """Mix both powders with the sugar and whisk into the cold oat drink.
Heat to 85 °C while stirring; hold 2 minutes.
Take off the heat, stir in the coconut milk and the lime juice.
Pour into molds at once and chill to 4 °C."""


def estimate_make(
    value: float, unit: str, low: float | None = None, high: float | None = None
) -> Estimate:
    """Return an estimate with a plain origin."""
    return Estimate(value, unit, low, high, "made by hand", EVIDENCE)


def formula_make(**changes: Any) -> Formula:
    """Return the formula behind the hand-made assessment."""
    fields: dict[str, Any] = {
        "title": "Coconut oat set with lime",
        "ingredients": INGREDIENTS,
        "steps": STEPS,
        "goal": Goal.SPOON,
        "diets": (Diet.VEGAN,),
        "portions": 10,
        "molds": MoldPlan(count=10, volume_ml=90),
        "loss_pct": 2.0,
        "serving_temperature_c": 6.0,
    }
    return Formula(**{**fields, **changes})


def line_make(
    number: int, text: str, name: str, grams: float | None, **changes: Any
) -> LineReading:
    """Return one ingredient line as read."""
    fields: dict[str, Any] = {
        "number": number,
        "text": text,
        "heading": "Base",
        "phase": "base",
        "name": name,
        "material_key": name.replace(" ", "_"),
        "material_name": name,
        "material_kind": "food",
        "grams": grams,
        "percent": None if grams is None else grams / 927.0 * 100.0,
        "assumptions": (),
        "problem": "",
        "nearest": (),
        "evidence": EVIDENCE,
    }
    return LineReading(**{**fields, **changes})


def lines_make() -> tuple[LineReading, ...]:
    """Return the lines of the hand-made formula."""
    return (
        line_make(2, "600 g oat drink", "oat drink", 600.0),
        line_make(
            3,
            "1 cup coconut milk",
            "coconut milk",
            240.0,
            assumptions=("1 US cup of coconut milk weighs 240 g",),
        ),
        line_make(4, "60 g sugar", "sugar", 60.0),
        line_make(5, "4 g kappa carrageenan", "kappa carrageenan", 4.0, material_kind="agent"),
        line_make(6, "2 g iota carrageenan", "iota carrageenan", 2.0, material_kind="agent"),
        line_make(7, "1 g fine salt", "fine salt", 1.0),
        line_make(9, "20 g lime juice", "lime juice", 20.0, heading="Finish", phase="finish"),
    )


def agent_make(**changes: Any) -> AgentResult:
    """Return kappa carrageenan in the hand-made formula."""
    fields: dict[str, Any] = {
        "key": "kappa_carrageenan",
        "name": "Kappa carrageenan",
        "lines": (5,),
        "dose_pct": estimate_make(0.43, "%", 0.42, 0.44),
        "typical": "0.2–1.5 %",
        "dose_verdict": "within the usual dose",
        "lot": "",
        "hydrates": Verdict.YES,
        "hydrated_fraction": estimate_make(0.98, "", 0.9, 1.0),
        "hydration_reason": "85 °C is reached",
        "sets": Verdict.YES,
        "set_reason": "enough potassium",
        "set_temperature_c": estimate_make(48.0, "°C", 40.0, 58.0),
        "melt_temperature_c": estimate_make(62.0, "°C", 54.0, 72.0),
        "practice_set_c": estimate_make(71.0, "°C", 65.0, 71.0),
        "practice_note": "rich bases begin to gel warmer",
        "modulus_kpa": estimate_make(3.2, "kPa", 1.6, 6.4),
        "viscosity_mpa_s": None,
        "firmness": "tender",
        "words": ("short", "clean cut"),
        "chart": (
            Figure(
                "hydration_temperature",
                "Hydrates",
                estimate_make(80.0, "°C", 75.0, 85.0),
            ),
        ),
        "evidence": EVIDENCE,
        "gel": gel_make(),
    }
    return AgentResult(**{**fields, **changes})


def gel_make(**changes: Any) -> AgentGel:
    """Return the gel of one agent, with some fields changed."""
    fields: dict[str, Any] = {
        "sets_on": "cooling",
        "fracture_stress_kpa": estimate_make(4.0, "kPa", 2.0, 8.0),
        "fracture_strain": estimate_make(0.5, "", 0.4, 0.7),
        "other_set_c": None,
        "other_set_name": "",
        "requirements": (),
        "zones": (),
        "readings": 0,
    }
    return AgentGel(**{**fields, **changes})


def steps_make() -> tuple[StepReading, ...]:
    """Return the steps of the hand-made formula as read."""
    readings = ("mixes dry", "heats to 85 °C and holds 2 min", "adds at 75 °C", "cools to 4 °C")
    return tuple(
        StepReading(number, text, "step", reading, "")
        for number, (text, reading) in enumerate(
            zip(STEPS.splitlines(), readings, strict=True), start=1
        )
    )


def findings_make() -> tuple[Finding, ...]:
    """Return one finding of each severity."""
    return (
        Finding("note_split", Severity.NOTE, "Coconut fat may rise", "It is not homogenized.", ""),
        Finding(
            "acid_low",
            Severity.WARN,
            "Acid is close to the limit",
            "The finished pH is about 4.6; carrageenan gels weaken below 4.",
            "Stir in the lime juice after cooking.",
            lines=(9,),
            evidence=EVIDENCE,
        ),
    )


def assessment_make(**changes: Any) -> Assessment:
    """Return a whole assessment, with some fields changed."""
    formula = changes.pop("formula", None) or formula_make()
    fields: dict[str, Any] = {
        "formula": formula,
        "formula_hash": formula.content_hash,
        "lines": lines_make(),
        "steps": steps_make(),
        "is_complete": True,
        "batch": BatchSize(927.0, 927.0, 908.5, None, 10, 90.8),
        "nutrients": (
            NutrientFigure(
                "energy_kcal",
                "Energy",
                estimate_make(98.0, "kcal", 92.0, 104.0),
                estimate_make(908.0, "kcal", 853.0, 964.0),
                (),
            ),
        ),
        "solution": (
            Figure("ph", "pH", estimate_make(4.6, "", 4.2, 5.1)),
            Figure("brix", "Brix", estimate_make(11.4, "°Bx", 10.6, 12.2)),
        ),
        "agents": (agent_make(),),
        "texture": Texture(
            "Sets to a tender, spoonable gel.",
            Verdict.YES,
            estimate_make(3.2, "kPa", 1.6, 6.4),
            "tender",
            ("short", "smooth"),
            6.0,
        ),
        "findings": findings_make(),
        "cautions": (
            Caution(
                "cooling",
                "Cool quickly",
                "Cool from 57 to 21 °C within 2 h and to 5 °C within 4 h more; follow local code.",
            ),
        ),
        "allergens": (
            AllergenResult("oats", "cereal", "contains", (2,), ("oat drink",)),
            AllergenResult("gluten", "cereal", "check", (2,), ("oat drink",)),
        ),
        "diets": (DietResult("vegan", Verdict.YES, claimed=True, lines=(), reason=""),),
        "cost": CostResult("USD", None, None, None, "", ("oat drink",)),
        "evidence": EVIDENCE,
    }
    return Assessment(**{**fields, **changes})


def findings_with_stop() -> tuple[Finding, ...]:
    """Return the usual findings and one that says: not like this."""
    stop = Finding(
        "not_hot_enough",
        Severity.STOP,
        "Kappa carrageenan never hydrates",
        "The hottest step reaches 60 °C; it needs 85 °C.",
        "Heat the whole batch to 85 °C.",
    )
    return (*findings_make(), stop)


def assessment_unread() -> Assessment:
    """Return an assessment with one line that could not be read."""
    lines = list(lines_make())
    lines[2] = replace(
        lines[2],
        text="some sugr",
        grams=None,
        percent=None,
        problem="No amount was found; write for example 60 g sugar.",
        nearest=("sugar",),
    )
    return assessment_make(lines=tuple(lines), is_complete=False)
