"""The form of other kitchens: whose, what counts as right; its values make the address."""

from collections.abc import Mapping
from typing import Any

from django import forms

from setwell.domain.kitchen_profile import HOME, PROFILES, Care
from setwell.errors import InputError
from setwell.services.robustness import (
    DRAWS,
    RobustnessAsk,
    ask_problems,
    kitchen_profile,
)
from setwell.web.inputs import NumberField

_NAMES = {"home": "Home: 1 g scale, no thermometer", "pro": "Professional: 0.1 g scale, probe",
          "lab": "Lab: 0.01 g scale, good probe"}  # fmt: skip
_CARE = (
    ("", "As above"),
    (Care.CARELESS.value, "Stirs now and then, times by feel"),
    (Care.USUAL.value, "Usual"),
    (Care.CAREFUL.value, "Stirs evenly, keeps times"),
)
FIRST = ("profile",)
WINDOW = ("low", "high")
OWN = {
    "scale": "scale_g", "thermometer": "thermometer_error_k", "care": "care",
    "water_low": "water_low", "water_high": "water_high",
    "fridge_low": "fridge_low_c", "fridge_high": "fridge_high_c",
}  # fmt: skip
_FIELD_OF = {target: name for name, target in OWN.items()}
LAST = ("draws",)


class StrangersForm(forms.Form):
    """Other kitchens; what is left empty is as the formula or the chosen kitchen has it."""

    profile = forms.CharField(
        label="Whose kitchen", max_length=60, required=False, widget=forms.Select
    )
    low = NumberField(label="Right from", low=0, high=1e7)
    high = NumberField(label="Right to", low=0, high=1e7)
    scale = NumberField(
        label="Scale reads, g", low=0.0001, high=50, unit="g", help_text="0.1 g is 0.004 oz."
    )
    thermometer = NumberField(
        label="Thermometer off by up to, °C", low=0, high=20, unit="°C",
        help_text="1 °C is 1.8 °F. Empty at home: no thermometer.",
    )  # fmt: skip
    care = forms.ChoiceField(label="Stirring and times", choices=_CARE, required=False)
    water_low = NumberField(
        label="Softest water, mmol/L", low=0, high=10, unit="mmol/L",
        help_text="1 mmol/L is 5.6 °dH or 100 ppm.",
    )  # fmt: skip
    water_high = NumberField(label="Hardest water, mmol/L", low=0, high=10, unit="mmol/L")
    fridge_low = NumberField(
        label="Coldest fridge, °C", low=-5, high=20, unit="°C", help_text="2 °C is 36 °F."
    )
    fridge_high = NumberField(
        label="Warmest fridge, °C", low=-5, high=20, unit="°C", help_text="8 °C is 46 °F."
    )
    draws = NumberField(
        label="Batches to make", low=1, high=10**9, is_whole=True,
        help_text=f"Empty: {DRAWS:,}.",
    )  # fmt: skip

    ask: RobustnessAsk

    def __init__(self, asked: Mapping[str, str], quantity: str) -> None:
        first = dict.fromkeys(self.base_fields, "") | {"profile": "home"}
        super().__init__({name: asked.get(name, value) for name, value in first.items()})
        typed = self.data["profile"]
        choices = [(name, _NAMES.get(name, name.capitalize())) for name in PROFILES]
        if typed not in PROFILES:
            choices.append((typed, f"{typed[:40]} (as typed)"))
        self.fields["profile"].widget.choices = choices
        self.fields["low"].help_text = f"{quantity}. Empty: as the goal asks."
        self.fields["high"].help_text = "Empty: no upper end."

    @property
    def has_own(self) -> bool:
        """True when something behind "Own numbers" is filled in or wrong."""
        return any(self.data[name] or self.errors.get(name) for name in (*OWN, *LAST))

    def clean(self) -> dict[str, Any]:
        """Build what is asked; all that is wrong with it is told at once, each at its field."""
        values: dict[str, Any] = super().clean() or {}
        own = {OWN[name]: values[name] for name in OWN if values.get(name) not in ("", None)}
        profile = HOME
        try:
            profile = kitchen_profile(values.get("profile") or "home", own)
        except InputError as error:
            self.refuse(error)
        draws = values.get("draws")
        self.ask = RobustnessAsk(
            profile=profile,
            low=values.get("low"),
            high=values.get("high"),
            draws=DRAWS if draws is None else draws,
        )
        for problem in ask_problems(self.ask):
            self.refuse(problem)
        return values

    def refuse(self, error: InputError) -> None:
        """Show what cannot be computed at the field it belongs to."""
        field = _FIELD_OF.get(error.field, error.field)
        self.add_error(
            field if field in self.fields else None, f"{error.message} {error.hint}".strip()
        )
