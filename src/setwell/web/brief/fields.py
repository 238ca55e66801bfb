"""The fields of a brief, in the words of a kitchen; `__` stands for the dot of inner fields."""

from typing import Any

from django import forms

from setwell.domain.brief import Clarity, Helper, Market, Mouth, Plating
from setwell.domain.formula import Diet
from setwell.units import temperature_print
from setwell.web.inputs import LinesField, NumberField

# The three ways to tell a base, and the fields that belong to each.
BASES = {
    "lines": ("base",),
    "formula": ("base_formula",),
    "composition": (
        "composition__name", "composition__sugar_g", "composition__fat_g",
        "composition__protein_g", "composition__milk_protein_g", "composition__starch_g",
        "composition__alcohol_g", "composition__salt_g", "composition__calcium_mg",
        "composition__potassium_mg", "composition__ph",
    ),
}  # fmt: skip
# Temperatures: what is typed is told in °F beside it.
CELSIUS = ("serving_c", "holds_c", "limits__max_temperature_c")
BASE_KINDS = (
    ("lines", "Kitchen lines"),
    ("formula", "A saved formula, without its agents"),
    ("composition", "What it is made of"),
)
CLARITIES = (
    (Clarity.ANY.value, "Does not matter"),
    (Clarity.CLEAR.value, "Clear"),
    (Clarity.SLIGHTLY_CLOUDY.value, "Slightly cloudy or clearer"),
    (Clarity.CLOUDY.value, "Cloudy or clearer"),
)
MOUTHS = (
    (Mouth.ANY.value, "Does not matter"),
    (Mouth.MELTS.value, "Melts in the mouth"),
    (Mouth.HOLDS.value, "Does not melt in the mouth"),
)
PLATINGS = (
    (Plating.ANY.value, "Does not matter"),
    (Plating.UNMOLDS.value, "Unmolds and stands"),
    (Plating.SPOONS.value, "Spooned"),
    (Plating.POURS.value, "Poured"),
)
MARKETS = (
    (Market.ANY.value, "No rules to keep"),
    (Market.US.value, "United States"),
    (Market.EU.value, "European Union"),
)
SETS = (("", "As the word says"), ("yes", "It sets"), ("no", "It does not set"))
MOST = (("1", "1"), ("2", "2"), ("3", "3"))
DIETS = tuple((diet.value, diet.value.capitalize()) for diet in Diet)
HELPERS = tuple((helper.value, helper.value.capitalize()) for helper in Helper)


def celsius_field(label: str, *, help_text: str = "", low: float = -5) -> NumberField:
    """Return a field for a temperature."""
    return NumberField(label=label, low=low, high=120, unit="°C", help_text=help_text)


def chosen(label: str, choices: Any, *, help_text: str = "") -> forms.ChoiceField:  # noqa: ANN401
    """Return one choice of a few."""
    return forms.ChoiceField(label=label, choices=choices, required=False, help_text=help_text)


def ticked(label: str, choices: Any = (), *, help_text: str = "") -> forms.MultipleChoiceField:  # noqa: ANN401
    """Return boxes to tick."""
    return forms.MultipleChoiceField(
        label=label, choices=choices, required=False, help_text=help_text,
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip


def picked(label: str, *, help_text: str = "") -> forms.CharField:
    """Return a name to pick from a list that is filled in later."""
    return forms.CharField(
        label=label, required=False, max_length=200, widget=forms.Select, help_text=help_text
    )


def share(label: str) -> NumberField:
    """Return grams in 100 g of the base."""
    return NumberField(label=f"{label}, g", low=0, high=100, unit="g in 100 g")


def amount(label: str, *, help_text: str = "") -> NumberField:
    """Return one end of a range; empty leaves it open."""
    return NumberField(label=label, low=0, high=1e7, above=True, help_text=help_text)


def names(label: str, *, help_text: str) -> LinesField:
    """Return names, one on each line."""
    return LinesField(
        label=label, help_text=help_text, max_length=10_000,
        widget=forms.Textarea(attrs={"rows": 2, "spellcheck": "false", "autocapitalize": "off"}),
    )  # fmt: skip


def fahrenheit_told(text: str, otherwise: str) -> str:
    """Return a typed temperature in both scales, or what else the hint says."""
    try:
        number = float(text.strip().replace(",", ".").replace("−", "-"))
    except ValueError:
        return otherwise
    return temperature_print(number) if -300 < number < 2000 else otherwise
