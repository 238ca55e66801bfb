"""The form of a lot in a standard test: only the fields that the test needs."""

from typing import Any

from django import forms

from setwell.documents.measurement_words import COLOR_WORDS, FLAVOR_WORDS, OUTCOME_WORDS
from setwell.domain.pantry import Lot
from setwell.domain.texture_reading import LotCheck, LotTest, Outcome, TextureKind
from setwell.domain.texture_values import BLOOM_DEPTH_MM, plunger_of
from setwell.services.results import LotCheckGuide
from setwell.web.calibration.forms import WET, MeasuredForm, choice_field, load_field, plunger_field
from setwell.web.inputs import NumberField, number_initial

_CUPS = ("value", "value_2", "value_3")
_GEL = (Outcome.SET, Outcome.SPREAD, Outcome.DID_NOT_SET)
_THICK = (Outcome.THICKENED, Outcome.STAYED_THIN, Outcome.SET)


class LotCheckForm(MeasuredForm):
    """What a lot did in one test, in up to three cups."""

    folded = (*MeasuredForm.folded, "dose_pct", "depth_mm")

    color = choice_field("Color of the powder", COLOR_WORDS)
    flavor = choice_field("Smell and taste of the powder", FLAVOR_WORDS)
    dose_pct = NumberField(label="Powder in the cup, %", low=0, high=40, unit="%", above=True)

    def __init__(
        self,
        *positional: Any,  # noqa: ANN401
        lot: Lot,
        guide: LotCheckGuide,
        **options: Any,  # noqa: ANN401
    ) -> None:
        super().__init__(*positional, **options)
        self.lot, self.test, self.cups = lot, guide.kind, ()
        if self.test.measures.is_load:
            self._add_loads()
        elif self.test.measures is TextureKind.VISCOSITY:
            self._add_thickness()
        else:
            del self.fields["plus_minus"]
        self.fields["outcome"] = self._outcome(guide)
        self.fields["dose_pct"].initial = number_initial(guide.dose_pct)
        self.order_fields([*self.cups, "outcome", "plunger_mm", "shear_rate_per_s"])

    def _outcome(self, guide: LotCheckGuide) -> forms.ChoiceField:
        """Return what can be seen without a tool; asked first where nothing is measured."""
        seen = _GEL if guide.answers[0].outcomes == (Outcome.SET,) else _THICK
        words = [(one.value, f"It {OUTCOME_WORDS[one]}") for one in seen]
        label = "Nothing to measure? Then what did it do?" if self.cups else "What did it do?"
        return forms.ChoiceField(
            label=label,
            required=False,
            choices=[("", "It was measured"), *words] if self.cups else words,
            widget=forms.RadioSelect,
        )

    def _add_loads(self) -> None:
        self.cups = _CUPS
        for place, cup in enumerate(_CUPS, start=1):
            self.fields[cup] = load_field(f"Cup {place}, g")
        self.fields["plunger_mm"] = plunger_field()
        self.fields["plunger_mm"].initial = number_initial(plunger_of(self.test, None))
        if self.test is LotTest.BLOOM:
            self.fields["depth_mm"] = NumberField(
                label="Pressed, mm deep", low=0, high=60, unit="mm", above=True,
                initial=number_initial(BLOOM_DEPTH_MM),
            )  # fmt: skip

    def _add_thickness(self) -> None:
        self.cups = _CUPS[:1]
        self.fields["value"] = NumberField(
            label="Thickness, mPa·s", low=-WET, high=WET, unit="mPa·s",
            help_text="1 Pa·s is 1000 mPa·s; 1 cP is 1 mPa·s.",
        )  # fmt: skip
        self.fields["shear_rate_per_s"] = NumberField(
            label="Shear rate, 1/s", low=0.1, high=1000, unit="1/s", initial="50",
            help_text="Stirring and pouring are about 50.",
        )  # fmt: skip
        self.fields["temperature_c"] = NumberField(
            label="Sample at, °C", low=-40, high=120, unit="°C", initial="20",
            help_text="20 °C is 68 °F.",
        )  # fmt: skip

    def document_of(self, values: dict[str, Any], cup: str) -> LotCheck:
        """Return one check."""
        value = values.get(cup)
        fields = {
            **self.common_fields(values),
            "agent": self.lot.agent,
            "lot_code": self.lot.lot_code,
            "kind": self.test,
            "values": () if value is None else (value,),
        }
        return LotCheck.model_validate(fields)
