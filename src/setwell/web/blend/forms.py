"""The form of a blend: agents in parts, dose, base, salts and heat; its values make the address."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from django import forms

from setwell.services.blend_explorer import (
    DOSE_MOST_PCT,
    SALT_MOST_PCT,
    BlendAsk,
    agent_choices,
    base_names,
)
from setwell.services.formulas import formula_list
from setwell.web.inputs import NumberField

# A blend that shows something at once.
START = {
    "agent_1": "Kappa carrageenan",
    "part_1": "60",
    "agent_2": "Locust bean gum",
    "part_2": "40",
    "agent_3": "",
    "part_3": "20",
    "dose": "0.6",
    "base": "whole milk",
    "formula": "",
    "version": "",
    "potassium_chloride": "",
    "calcium_lactate": "",
    "heat": "90",
    "hold": "5",
    "stirring": "constant",
    "serving": "4",
}
_STIRRING = (
    ("constant", "Stirred all the time"),
    ("occasional", "Stirred now and then"),
    ("none", "Not stirred"),
)


class Slide(NamedTuple):
    """How far a slider goes; the number beside it takes what lies beyond."""

    low: float
    high: float
    step: float


_PART = Slide(0, 100, 5)
SLIDES: Mapping[str, Slide] = {
    "part_1": _PART,
    "part_2": _PART,
    "part_3": _PART,
    "dose": Slide(0, 3, 0.05),
    "potassium_chloride": Slide(0, 0.5, 0.02),
    "calcium_lactate": Slide(0, 1, 0.05),
    "heat": Slide(20, 100, 1),
    "hold": Slide(0, 30, 1),
    "serving": Slide(0, 80, 1),
}

_CHOOSE = {"required": "Choose an agent."}


class BlendForm(forms.Form):
    """One blend to try; a name that is not known stays in its field as it came."""

    agent_1 = forms.CharField(
        label="First agent", max_length=200, widget=forms.Select, error_messages=_CHOOSE
    )
    part_1 = NumberField(label="Parts of the first agent", low=0, high=10_000)
    agent_2 = forms.CharField(
        label="Second agent", max_length=200, widget=forms.Select, error_messages=_CHOOSE
    )
    part_2 = NumberField(label="Parts of the second agent", low=0, high=10_000)
    agent_3 = forms.CharField(
        label="Third agent", max_length=200, required=False, widget=forms.Select
    )
    part_3 = NumberField(label="Parts of the third agent", low=0, high=10_000)
    dose = NumberField(
        label="All agents together, %", low=0, high=DOSE_MOST_PCT, unit="%", required=True,
        help_text="Of the finished batch: 0.6 % is 6 g in 1 kg.",
    )  # fmt: skip
    base = forms.CharField(label="Base", max_length=120, required=False)
    formula = forms.CharField(
        label="Or a saved formula, without its agents", max_length=20, required=False,
        widget=forms.Select,
    )  # fmt: skip
    version = NumberField(
        label="Its version", low=1, high=1_000_000, is_whole=True, help_text="Empty: the newest."
    )
    potassium_chloride = NumberField(
        label="Potassium chloride, %", low=0, high=SALT_MOST_PCT, unit="%"
    )
    calcium_lactate = NumberField(label="Calcium lactate, %", low=0, high=SALT_MOST_PCT, unit="%")
    heat = NumberField(
        label="Heated to, °C", low=0, high=105, unit="°C",
        help_text="85 °C is 185 °F. Empty: not heated.",
    )  # fmt: skip
    hold = NumberField(label="Held, minutes", low=0, high=240, unit="min")
    stirring = forms.ChoiceField(label="Stirring", choices=_STIRRING, required=False)
    serving = NumberField(
        label="Served at, °C", low=-10, high=100, unit="°C", help_text="4 °C is 39 °F."
    )

    def __init__(self, asked: Mapping[str, str]) -> None:
        known = {name: asked.get(name, first) for name, first in START.items()}
        super().__init__(known)
        groups = [(group, [agent_choice(one) for one in ones]) for group, ones in agent_choices()]
        for name in ("agent_1", "agent_2", "agent_3"):
            first = [("", "No third agent" if name == "agent_3" else "Choose an agent")]
            offer(self.fields[name], [*first, *groups], known[name])
        saved = [(str(one.id), one.title) for one in formula_list()]
        offer(self.fields["formula"], [("", "No formula: the base above"), *saved],
               known["formula"])  # fmt: skip
        self.fields["base"].widget.attrs.update({"list": "bases", "autocomplete": "off"})

    @property
    def bases(self) -> tuple[str, ...]:
        """Usual bases to pick from."""
        return base_names()

    def clean_formula(self) -> int | None:
        """Return the number of the formula."""
        text = self.cleaned_data["formula"].strip()
        if not text:
            return None
        if not (text.isascii() and text.isdigit() and len(text) < 10):
            raise forms.ValidationError("This is no formula of this kitchen: choose one.")
        return int(text)

    def clean(self) -> dict[str, Any]:
        """Ask for a part of every agent."""
        values: dict[str, Any] = super().clean() or {}
        for number in self._used(values):
            if f"part_{number}" in values and values[f"part_{number}"] is None:
                self.add_error(f"part_{number}", "How many parts? Write a number from 0 up.")
        return values

    @property
    def ask(self) -> BlendAsk:
        """What is asked for, once the form is valid."""
        values = self.cleaned_data
        used = self._used(values)
        return BlendAsk(
            agents=tuple(values[f"agent_{number}"] for number in used),
            parts=tuple(values[f"part_{number}"] for number in used),
            dose_pct=values["dose"],
            base=values["base"],
            potassium_chloride_pct=values["potassium_chloride"] or 0.0,
            calcium_lactate_pct=values["calcium_lactate"] or 0.0,
            heat_c=values["heat"],
            hold_min=values["hold"] or 0.0,
            stirring=values["stirring"] or "constant",
            serving_c=4.0 if values["serving"] is None else values["serving"],
        )

    def _used(self, values: Mapping[str, Any]) -> list[int]:
        return [1, 2, 3] if values.get("agent_3") else [1, 2]


def agent_choice(one: Any) -> tuple[str, str]:  # noqa: ANN401 - a choice of the service
    """Return one agent as a choice: its name, and how it is shown."""
    return one.name, f"{one.name} (lot {one.lot})" if one.lot else one.name


def offer(field: forms.Field, choices: list[tuple[str, Any]], typed: str) -> None:
    """Offer choices; what came with the address and is none of them stays, marked as such."""
    offered = [
        value
        for first, second in choices
        for value, _ in (second if isinstance(second, list) else [(first, second)])
    ]
    if typed not in offered:
        same = next((one for one in offered if one.casefold() == typed.strip().casefold()), None)
        label = same or f"{typed[:60]} (as typed)"
        choices = [*choices, (typed, label)]
    field.widget.choices = choices
