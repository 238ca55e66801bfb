"""How to test a lot, in plain words, and what the answer means."""

from dataclasses import dataclass

from setwell.domain.texture_reading import LotTest, Outcome
from setwell.engine.lot_check import (
    POTASSIUM_CHLORIDE_G,
    Family,
    agent_row,
    family_of,
    lot_test_formula,
)

_SET = (Outcome.SET,)
_THICK = (Outcome.THICKENED, Outcome.SET)
_FAULT = (
    "look at the process: was the whole batch hot enough and for long enough, did acid go in "
    "early, was the dose weighed right, was the powder lumped?"
)
_FOOD_GRADE = "Test and taste only food-grade powder; the same names are sold for other uses."


@dataclass(frozen=True, slots=True)
class GuideAnswer:
    """What an outcome means, and what to do next."""

    outcomes: tuple[Outcome, ...]
    meaning: str
    action: str


@dataclass(frozen=True, slots=True)
class LotCheckGuide:
    """One test of one powder, as a cook can follow it."""

    agent: str
    agent_name: str
    kind: LotTest
    title: str
    amounts: tuple[str, ...]
    steps: tuple[str, ...]
    look_for: str
    answers: tuple[GuideAnswer, ...]
    dose_pct: float
    caution: str = _FOOD_GRADE

    def answer(self, outcome: Outcome) -> GuideAnswer:
        """Return what this outcome means."""
        return next(
            (answer for answer in self.answers if outcome in answer.outcomes), self.answers[-1]
        )


@dataclass(frozen=True, slots=True)
class _Control:
    """The control cup of one family: what goes in besides water and powder, and how."""

    extra: tuple[str, ...]
    steps: tuple[str, ...]
    look_for: str
    again: str


_BOIL = "Bring to a boil, stirring, and keep it boiling for 2 minutes."
_DISPERSE = "Sprinkle the powder over the cold water while whisking, so that no lumps form."
_CONTROLS = {
    Family.POTASSIUM: _Control(
        (),
        (_DISPERSE, _BOIL, "Pour a cup and let it stand until it has room temperature."),
        "A gel that stands when the cup is turned over. In very soft water it may be weak.",
        f"Boil once more with 1 % of powder and {POTASSIUM_CHLORIDE_G:g} % of potassium chloride.",
    ),
    Family.CALCIUM_COOLED: _Control(
        ("0.2 g calcium lactate",),
        (_DISPERSE, "Stir in the calcium lactate.", _BOIL, "Let a cup cool to room temperature."),
        "A gel: soft and elastic from iota, firm and brittle from gellan.",
        "Boil once more with 1 % of powder and 0.3 % of calcium lactate.",
    ),
    Family.COOLED: _Control(
        (),
        (_DISPERSE, _BOIL, "Pour a cup and let it stand until it has room temperature."),
        "A gel that stands when the cup is turned over.",
        "Boil once more with 1 % of powder, for 5 minutes.",
    ),
    Family.GELATIN: _Control(
        (),
        (
            "Soak the gelatin in the cold water for 10 minutes.",
            "Warm to 60 °C (140 °F) until it is clear. Do not boil it.",
            "Chill a cup in the fridge overnight.",
        ),
        "A clear, elastic gel. Gelatin from cold-water fish sets only in the fridge, and softly.",
        "Repeat once with 5 %, freshly soaked, in the fridge overnight.",
    ),
    Family.CALCIUM_BATH: _Control(
        ("for the bath: 100 g water with 1 g calcium lactate",),
        (
            "Blend the powder into the cold water and let the bubbles rise for an hour.",
            "Stir the calcium lactate into the other water until it is clear.",
            "Drop a spoonful into the bath, wait 2 minutes, and lift it out.",
        ),
        "A skin that holds the drop together.",
        "Repeat once in deionized water with 2 % of calcium lactate in the bath.",
    ),
    Family.LOW_SUGAR_PECTIN: _Control(
        ("20 g sugar", "0.1 g calcium lactate", "0.3 g citric acid"),
        (
            "Mix the pectin with the sugar, dry, and whisk it into the water.",
            _BOIL,
            "Stir in the calcium lactate in a spoonful of water, then the citric acid.",
            "Pour a cup and let it cool to room temperature.",
        ),
        "A soft gel that stands on a spoon.",
        "Repeat once with 0.2 % of calcium lactate.",
    ),
    Family.SUGAR_ACID: _Control(
        ("180 g sugar", "1 g citric acid in a spoonful of water"),
        (
            "Mix the pectin with a fifth of the sugar, dry, whisk it into the water and boil.",
            "Stir in the rest of the sugar and boil down to 65 % sugar (about 105 °C, 221 °F).",
            "Stir in the citric acid last, pour a cup and let it cool for a day.",
        ),
        "A gel that stands. Without that much sugar and acid no good lot sets either.",
        "Repeat once at pH 3.0 to 3.2, boiled down to 65 % sugar.",
    ),
    Family.HEATED: _Control(
        (),
        (
            "Whisk the powder into the water while it boils, then let it cool, stirring.",
            "Chill to below 10 °C (50 °F) overnight: it thickens as it takes up water.",
            "Drop a spoonful of it into water of 85 °C (185 °F).",
        ),
        "It sets in the hot water and turns liquid again as it cools.",
        "Repeat once with 2 %, chilled in ice water.",
    ),
    Family.STARCH: _Control(
        (),
        ("Stir the starch into the cold water.", _BOIL, "Let it cool to 60 °C (140 °F)."),
        "It coats a spoon when warm. Many starches set softly as they cool; waxy ones never do.",
        "Repeat once with 6 %, and count the 2 minutes from the first bubble.",
    ),
    Family.COLD_STARCH: _Control(
        (),
        ("Blend the starch into the cold water.", "Let it stand for 10 minutes."),
        "It thickens without heat. It does not set.",
        "Repeat once with a blender; lumps stay dry inside.",
    ),
    Family.THICKENER_HOT: _Control(
        (),
        (_DISPERSE, _BOIL, "Let it cool, and wait an hour."),
        "It pours slowly, like a syrup. By itself it does not set.",
        "Repeat once with 1 %, kept at 90 °C (194 °F) for 10 minutes.",
    ),
    Family.THICKENER_COLD: _Control(
        (),
        (_DISPERSE, "Let it stand for an hour, stirring now and then."),
        "It pours slowly, like a syrup. It does not set, and need not.",
        "Repeat once with a blender and wait overnight.",
    ),
    Family.EMULSIFIER: _Control(
        (),
        ("Stir the powder into lukewarm water.", "Let it stand for an hour."),
        "It dissolves without lumps and stays pourable: its work is to hold oil, not to thicken.",
        "Repeat once in water of 50 °C (122 °F).",
    ),
}
_TITLES = {
    LotTest.WATER_GEL: "Gel in plain water",
    LotTest.POTASSIUM_GEL: "Gel in water with potassium",
    LotTest.BLOOM: "Bloom strength",
    LotTest.MILK_GEL: "Gel in milk",
    LotTest.POWDER_CONTROL: "Does the powder work at all?",
    LotTest.WATER_VISCOSITY: "Thickness in water",
}
_READ = {
    LotTest.WATER_GEL: "Press the plunger in slowly on a scale: note the grams at which it breaks.",
    LotTest.POTASSIUM_GEL: (
        "Press a plunger of 1 cm² (11.3 mm across) in slowly on a scale: note the grams at which "
        "it breaks."
    ),
    LotTest.BLOOM: "Press the flat 12.7 mm plunger 4 mm deep: the grams are the Bloom strength.",
    LotTest.MILK_GEL: "Press the plunger in slowly on a scale: note the grams at which it breaks.",
    LotTest.WATER_VISCOSITY: "Read the viscosity with shear rate and temperature.",
}


def lot_check_guide(agent: str, kind: LotTest, *, dose_pct: float | None = None) -> LotCheckGuide:
    """Return a test in plain words: amounts, steps, what to look for, what it means."""
    test = lot_test_formula(agent, kind, dose_pct=dose_pct)
    row, family = agent_row(agent), family_of(agent)
    if kind is LotTest.POWDER_CONTROL:
        control = _CONTROLS[family]
        amounts = ("100 g water", f"{test.dose_pct:g} g {row.short_name}", *control.extra)
        steps, look_for = control.steps, control.look_for
    else:
        amounts = tuple(test.formula.ingredients.splitlines())
        steps = (*test.formula.steps.splitlines(), _READ[kind])
        look_for = _look_for(family, kind)
    return LotCheckGuide(
        agent, row.name, kind, _TITLES[kind], amounts, steps, look_for, _answers(family),
        test.dose_pct,
    )  # fmt: skip


def _look_for(family: Family, kind: LotTest) -> str:
    if kind is LotTest.WATER_VISCOSITY or not family.gels:
        return "The same thickness in two cups; lumps make a lot look weak."
    return "The same grams in two cups, pressed in the middle; edges and bubbles break early."


def _answers(family: Family) -> tuple[GuideAnswer, ...]:
    control = _CONTROLS[family]
    good = _SET if family.gels else _THICK
    if family is Family.EMULSIFIER:
        good = (Outcome.STAYED_THIN, Outcome.THICKENED)
    works = "It sets" if family.gels else "It thickens"
    if family is Family.EMULSIFIER:
        works = "It dissolves"
    bad = tuple(outcome for outcome in Outcome if outcome not in good)
    return (
        GuideAnswer(
            good,
            f"{works}: the powder is good, and the fault is elsewhere.",
            f"If a batch failed, {_FAULT}",
        ),
        GuideAnswer(
            bad,
            "The powder did not show what it should, or the cup went wrong.",
            f"{control.again} If that fails too, set the lot aside and ask the supplier.",
        ),
    )
