"""The forms of texture readings: one for each kind, with only the fields it needs."""

from typing import Any, ClassVar

from django import forms

from setwell.documents.measurement_words import OUTCOME_WORDS
from setwell.domain.texture_reading import TextureKind, TextureReading
from setwell.services.texture_readings import AgentLots, texture_word_choices
from setwell.web.calibration.forms import WET, MeasuredForm, load_field, plunger_field
from setwell.web.inputs import NumberField

LOT = "lot_"
_TEMPERATURE_HINT = "40 °C is 104 °F."
_WIDE = 5_000.0


class TextureForm(MeasuredForm):
    """What every reading of a version says: of which lots, when and by whom."""

    kind: ClassVar[TextureKind]

    def __init__(
        self,
        *positional: Any,  # noqa: ANN401
        lots: tuple[AgentLots, ...] = (),
        **options: Any,  # noqa: ANN401
    ) -> None:
        super().__init__(*positional, **options)
        if not self.cups:
            # Nothing was measured that could repeat to anything.
            del self.fields["plus_minus"]
        for agent in lots:
            self.fields[f"{LOT}{agent.agent}"] = _lot_field(agent)

    def document_of(self, values: dict[str, Any], cup: str) -> TextureReading:
        """Return one reading."""
        fields = {
            name: value
            for name, value in self.common_fields(values).items()
            if not name.startswith(LOT)
        }
        lots = {
            name.removeprefix(LOT): value for name, value in values.items() if name.startswith(LOT)
        }
        value = values.get(cup)
        return TextureReading.model_validate(
            {**fields, "kind": self.kind, "value": value, "lots": lots}
        )


def _lot_field(agent: AgentLots) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=f"Lot of {agent.name}",
        choices=[*((one, one) for one in agent.known), ("", "no lot named")],
        initial=agent.in_use,
        required=False,
        error_messages={
            "invalid_choice": f"There is no lot “%(value)s” of {agent.name} on the shelf. "
            "Add the lot to the pantry first, or choose one that is there."
        },
    )


class LoadForm(TextureForm):
    """Grams under a plunger, of up to three cups."""

    cups = ("value", "value_2", "value_3")
    folded = (*TextureForm.folded, "temperature_c")

    value = load_field("Cup 1, g")
    value_2 = load_field("Cup 2, g", help_text="If there is one.")
    value_3 = load_field("Cup 3, g", help_text="If there is one.")
    plunger_mm = plunger_field()
    temperature_c = NumberField(
        label="Sample at, °C",
        low=-40,
        high=120,
        unit="°C",
        help_text="Empty is the temperature it is served at. 4 °C is 39 °F.",
    )


class PenetrationForm(LoadForm):
    """The load at which a gel breaks."""

    kind = TextureKind.PENETRATION


class PressForm(LoadForm):
    """The load at a small depth."""

    kind = TextureKind.FIRMNESS_PRESS

    depth_mm = NumberField(
        label="Pressed, mm deep", low=0, high=60, unit="mm", above=True, initial="4"
    )


class TemperatureForm(TextureForm):
    """A temperature at which something happens."""

    cups = ("value",)
    folded = TextureForm.folded

    value = NumberField(
        label="Temperature, °C", low=-_WIDE, high=_WIDE, unit="°C", help_text=_TEMPERATURE_HINT
    )
    plus_minus = NumberField(
        label="Plus or minus, °C",
        low=0.1,
        high=200,
        unit="°C",
        help_text="Empty is the usual 2 °C of a kitchen probe.",
    )


class SettingForm(TemperatureForm):
    """Where it sets on cooling."""

    kind = TextureKind.SETTING_TEMPERATURE


class MeltingForm(TemperatureForm):
    """Where it melts on warming."""

    kind = TextureKind.MELTING_TEMPERATURE


class ThicknessForm(TextureForm):
    """The reading of a viscometer."""

    kind = TextureKind.VISCOSITY
    cups = ("value",)

    value = NumberField(
        label="Thickness, mPa·s",
        low=-WET,
        high=WET,
        unit="mPa·s",
        help_text="1 Pa·s is 1000 mPa·s; 1 cP is 1 mPa·s.",
    )
    shear_rate_per_s = NumberField(
        label="Shear rate, 1/s",
        low=0.1,
        high=1000,
        unit="1/s",
        initial="50",
        help_text="Stirring and pouring are about 50.",
    )
    temperature_c = NumberField(
        label="Sample at, °C",
        low=-40,
        high=120,
        unit="°C",
        initial="20",
        help_text="20 °C is 68 °F.",
    )


class OutcomeForm(TextureForm):
    """What it did, without any tool."""

    kind = TextureKind.OUTCOME

    outcome = forms.ChoiceField(
        label="What did it do?",
        choices=[(key.value, f"It {word}") for key, word in OUTCOME_WORDS.items()],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what it did."},
    )


class WordForm(TextureForm):
    """The word a cook has for it."""

    kind = TextureKind.WORD

    word = forms.ChoiceField(
        label="Which word fits best?",
        widget=forms.RadioSelect,
        error_messages={"required": "Choose the word that fits best."},
    )

    def __init__(self, *positional: Any, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        choices = [(key, f"{name}: {meaning}") for key, name, meaning in texture_word_choices()]
        field = self.fields["word"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - declared above
        field.choices = choices


FORMS: dict[str, type[TextureForm]] = {
    form.kind.value: form
    for form in (
        PenetrationForm, PressForm, SettingForm, MeltingForm, ThicknessForm, OutcomeForm, WordForm,
    )
}  # fmt: skip
# How to take each reading, for wet hands.
GUIDES = {
    TextureKind.PENETRATION: (
        "Put the full cup on the scale and set the scale to zero.",
        "Press the plunger straight down into the middle, slowly, until the gel breaks.",
        "Write the highest grams that the scale showed.",
    ),
    TextureKind.FIRMNESS_PRESS: (
        "Put the full cup on the scale and set the scale to zero.",
        "Press the plunger straight down into the middle to the depth below. It must not break.",
        "Write the grams at that depth, at once.",
    ),
    TextureKind.SETTING_TEMPERATURE: (
        "Let a cup of the hot batch cool with the probe in its middle.",
        "Tip it a little at each degree.",
        "Write the temperature at which it no longer flows.",
    ),
    TextureKind.MELTING_TEMPERATURE: (
        "Warm a set piece in a water bath, about 1 °C each minute, with the probe in its middle.",
        "Write the temperature at which it runs.",
    ),
    TextureKind.VISCOSITY: (
        "Bring the sample to the temperature below and stir it gently.",
        "Write the reading of the viscometer and its shear rate.",
    ),
    TextureKind.OUTCOME: ("Turn out a cup, or cut a piece, and look.",),
    TextureKind.WORD: ("Press, cut and taste a piece. Take the word that fits best.",),
}
