"""A card on its way to a web site: the card, and what only its page needs."""

import datetime as dt
from dataclasses import dataclass

from setwell.documents.card import Card
from setwell.engine.assessment import Assessment, Verdict
from setwell.units import mass_print

PDF_NAME, RECIPE_NAME, PAGE_NAME = "card.pdf", "recipe.jsonld", "index.html"
DRAFT = "Draft, to be checked by a qualified person."


@dataclass(frozen=True, slots=True)
class RecipeNutrition:
    """Nutrients of one portion or of 100 g, by the name that schema.org has for them.

    What is unknown is left out: a missing figure is not zero. `basis` says where they stand so.
    """

    serving: str
    amounts: tuple[tuple[str, str, str], ...]
    left_out: tuple[str, ...]
    basis: str = "Computed from the formula, not rounded as on a label."


@dataclass(frozen=True, slots=True)
class RecipeTimes:
    """Minutes from weighing to serving; None where the steps do not tell."""

    preparing_min: float | None = None
    cooking_min: float | None = None
    total_min: float | None = None


@dataclass(frozen=True, slots=True)
class ChangeNote:
    """What one published version changed; `lines` are sentences, the most important first."""

    number: int
    date: dt.date
    lines: tuple[str, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class PublishedPhoto:
    """The picture of a photo of the card, as a JPEG file beside the page."""

    id: int
    data: bytes

    @property
    def file_name(self) -> str:
        """How the file is called."""
        return f"photo-{self.id}.jpg"


@dataclass(frozen=True, slots=True)
class PublishedCard:
    """One card with all that its page says; `address` is where the folder of the card stands."""

    card: Card
    name: str
    number: int
    first_published: dt.datetime
    published: dt.datetime
    description: str
    portions: int | None
    recipe_diets: tuple[str, ...] = ()
    nutrition: RecipeNutrition | None = None
    times: RecipeTimes = RecipeTimes()
    changes: tuple[ChangeNote, ...] = ()
    photos: tuple[PublishedPhoto, ...] = ()
    address: str = ""


# Nutrient, name in schema.org, label, unit and digits after the point.
_NUTRIENTS = (
    ("energy_kcal", "calories", "Energy", "kcal", 0),
    ("fat_g", "fatContent", "Fat", "g", 1),
    ("saturated_fat_g", "saturatedFatContent", "Saturated fat", "g", 1),
    ("trans_fat_g", "transFatContent", "Trans fat", "g", 1),
    ("cholesterol_mg", "cholesterolContent", "Cholesterol", "mg", 0),
    ("carbohydrate_g", "carbohydrateContent", "Carbohydrate", "g", 1),
    ("fiber_g", "fiberContent", "Fiber", "g", 1),
    ("sugars_g", "sugarContent", "Sugars", "g", 1),
    ("protein_g", "proteinContent", "Protein", "g", 1),
    ("sodium_mg", "sodiumContent", "Sodium", "mg", 0),
)
# "No gluten" by ingredients is not "gluten free" by law, so no such claim goes to machines.
_DIETS = {
    "vegan": "https://schema.org/VeganDiet",
    "vegetarian": "https://schema.org/VegetarianDiet",
}


def recipe_nutrition(assessment: Assessment) -> RecipeNutrition | None:
    """Return the nutrients of one portion, or of 100 g; None while a line could not be read."""
    if not assessment.is_complete or not assessment.lines:
        return None
    grams = assessment.batch.portion_g
    amounts, left_out = [], []
    for key, name, label, unit, digits in _NUTRIENTS:
        figure = assessment.nutrient(key)
        if figure is None or figure.unknown_in or figure.per_100g.is_lower_bound:
            left_out.append(label)
            continue
        amount = figure.per_100g.value * (grams or 100.0) / 100.0
        amounts.append((name, label, f"{amount:.{digits}f} {unit}"))
    serving = f"1 portion ({mass_print(grams)})" if grams else "100 g"
    return RecipeNutrition(serving, tuple(amounts), tuple(left_out))


def recipe_diets(assessment: Assessment) -> tuple[str, ...]:
    """Return the diets that may be told to machines: those that fit by every ingredient."""
    return tuple(
        _DIETS[result.diet]
        for result in assessment.diets
        if result.verdict is Verdict.YES and result.diet in _DIETS
    )


def recipe_description(card: Card) -> str:
    """Return one paragraph for lists and feeds; what can hurt somebody is in it."""
    parts = [f"{card.yield_line}."]
    parts += [f"Made {card.goal}."] if card.goal else []
    found = "; ".join(card.allergens)
    parts.append(f"Allergens: {found}." if found else "No allergen found in what was read.")
    parts += [card.traces] if card.traces else []
    return " ".join(parts)
