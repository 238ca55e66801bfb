"""A batch of another weight in the address of a page: how much, on which scale, to make what."""

from collections.abc import Mapping
from typing import Any

from django import forms

from setwell.services.scaling import BatchYield, CardBatch
from setwell.web.inputs import NumberField

# What the Scale page was asked for goes along, so that nothing typed is lost on the way. What it
# calls its target is the temperature of the pot on the page of a process.
SCALED_TO = "scaled_to"
TARGET = (SCALED_TO, "to_grams", "portion_count", "portion_g", "mold_count", "mold_ml")
READABILITIES = (
    ("", "The kitchen’s own scale"),
    ("1", "1 g"),
    ("0.1", "0.1 g"),
    ("0.01", "0.01 g"),
)


class BatchForm(forms.Form):
    """The weight of a batch and the scale; the rest is what it was scaled to."""

    batch = NumberField(
        label="Batch, g", low=0.1, high=1e6, unit="g",
        help_text="All that is weighed in; 1000 g is 2.2 lb. Empty: as written.",
    )  # fmt: skip
    readability_g = forms.ChoiceField(label="Scale shows", choices=READABILITIES, required=False)
    portion_count = NumberField(label="Portions", low=1, high=100_000, is_whole=True)
    portion_g = NumberField(label="Weight of one, g", low=0, high=1e5, above=True)
    mold_count = NumberField(label="Molds", low=1, high=10_000, is_whole=True)
    mold_ml = NumberField(label="Volume of one, mL", low=0, high=100_000, above=True)

    @property
    def asked(self) -> CardBatch | None:
        """The batch that is asked for; None for the one as written."""
        self.is_valid()
        values = self.cleaned_data
        grams = values.get("batch")
        return None if grams is None else CardBatch(grams, self.step, self.makes)

    @property
    def step(self) -> float | None:
        """The smallest step of the scale; None for the kitchen's own."""
        self.is_valid()
        text = self.cleaned_data.get("readability_g")
        return float(text) if text else None

    @property
    def makes(self) -> BatchYield:
        """What the batch was scaled to, where it was to portions or molds."""
        self.is_valid()
        values, target = self.cleaned_data, self.data.get(SCALED_TO)
        portions = _pair(values, "portion_count", "portion_g")
        molds = _pair(values, "mold_count", "mold_ml")
        return BatchYield(
            portions_of=portions if target == "portions" else None,
            molds=molds if target == "molds" else None,
        )


def target_asked(given: Mapping[str, str]) -> dict[str, str]:
    """Return what a Scale page was asked for, as other pages carry it."""
    asked = {**given, SCALED_TO: given.get("target", "")}
    return {name: str(asked[name])[:40] for name in TARGET if asked.get(name)}


def scale_asked(given: Mapping[str, str]) -> dict[str, str]:
    """Return the address of the Scale page that a batch came from; empty for none."""
    if not given.get(SCALED_TO):
        return {}
    names = (*(name for name in TARGET if name != SCALED_TO), "readability_g")
    asked = {"target": given[SCALED_TO], **{name: given.get(name, "") for name in names}}
    return {name: value for name, value in asked.items() if value}


def _pair(values: dict[str, Any], count: str, each: str) -> tuple[int, float] | None:
    number, size = values.get(count), values.get(each)
    return None if number is None or size is None else (number, size)
