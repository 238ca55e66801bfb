"""Forms to pick versions and to scale one."""

from typing import Any, TypedDict

from django import forms

from setwell.web.batch_asked import READABILITIES
from setwell.web.inputs import NumberField

_TARGETS = (("grams", "Batch weight"), ("portions", "Portions"), ("molds", "Molds"))
# The fields that each target needs.
_NEEDED = {
    "grams": ("to_grams",),
    "portions": ("portion_count", "portion_g"),
    "molds": ("mold_count", "mold_ml"),
}


class ScaleTarget(TypedDict, total=False):
    """What scaling is told: one of three targets, and the step of the scale."""

    to_grams: float
    portions_of: tuple[int, float]
    molds: tuple[int, float]
    readability_g: float | None


class CompareForm(forms.Form):
    """Two versions of one formula."""

    first = forms.IntegerField(
        min_value=1, max_value=10**9, error_messages={"required": "Choose the first version."}
    )
    second = forms.IntegerField(
        min_value=1, max_value=10**9, error_messages={"required": "Choose the second version."}
    )


class ScaleForm(forms.Form):
    """The size to scale to, and the scale to weigh on."""

    target = forms.ChoiceField(
        label="Scale to",
        choices=_TARGETS,
        widget=forms.RadioSelect,
        initial="grams",
        error_messages={"required": "Choose batch weight, portions or molds."},
    )
    to_grams = NumberField(label="Finished batch, g", low=0, high=1e7, unit="g", above=True)
    portion_count = NumberField(label="Portions", low=1, high=100_000, is_whole=True)
    portion_g = NumberField(label="Weight of one, g", low=0, high=1e5, unit="g", above=True)
    mold_count = NumberField(label="Molds", low=1, high=10_000, is_whole=True)
    mold_ml = NumberField(label="Volume of one, mL", low=0, high=100_000, unit="mL", above=True)
    readability_g = forms.ChoiceField(label="Scale shows", choices=READABILITIES, required=False)

    def clean(self) -> dict[str, Any]:
        """Ask for what the chosen target needs."""
        values: dict[str, Any] = super().clean() or {}
        for name in _NEEDED.get(values.get("target", ""), ()):
            if values.get(name) is None and name not in self.errors:
                self.add_error(name, f"Fill in “{self.fields[name].label}”.")
        return values

    @property
    def scale_target(self) -> ScaleTarget:
        """Return the options for scaling."""
        values = self.cleaned_data
        step = values["readability_g"]
        target: ScaleTarget = {"readability_g": float(step) if step else None}
        if values["target"] == "grams":
            target["to_grams"] = values["to_grams"]
        elif values["target"] == "portions":
            target["portions_of"] = (values["portion_count"], values["portion_g"])
        else:
            target["molds"] = (values["mold_count"], values["mold_ml"])
        return target
