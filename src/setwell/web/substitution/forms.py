"""The form of a substitution: what goes, what comes, what stays; its values make the address."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from setwell.services.blend_explorer import agent_choices
from setwell.services.substitution import KEPT_NAMES, Keep, Replaceable, SubstitutionAsk
from setwell.web.blend.forms import agent_choice, offer
from setwell.web.inputs import NumberField

_REMOVE = "-"


class SubstitutionForm(forms.Form):
    """One swap to try; a name that is not known stays in its field as it came."""

    replace = forms.CharField(
        label="What goes", max_length=200, required=False, widget=forms.Select
    )
    by = forms.CharField(
        label="What comes instead", max_length=200, required=False, widget=forms.Select
    )
    keep = forms.CharField(
        label="What stays as it is", max_length=40, required=False, widget=forms.Select
    )
    bloom = NumberField(
        label="Bloom of the new gelatin", low=30, high=400, unit="g",
        help_text="For gelatin only. Without a new agent: the same gelatin in this grade.",
    )  # fmt: skip
    strength = NumberField(
        label="Strength of the new lot", low=0.1, high=10,
        help_text="1 is as usual, 0.8 is a fifth weaker, as a lot check tells.",
    )  # fmt: skip
    target = NumberField(
        label="Reach this number instead", low=0, high=1e6, above=True,
        help_text="Firmness and break in kPa, thickness in mPa·s, setting in °C (21 °C is 70 °F).",
    )  # fmt: skip
    version = NumberField(
        label="Version", low=1, high=1_000_000, is_whole=True, help_text="Empty: the newest."
    )

    def __init__(self, asked: Mapping[str, str], known: Sequence[Replaceable]) -> None:
        first = dict.fromkeys(self.base_fields, "")
        first["replace"] = known[0].name if known else ""
        super().__init__({name: asked.get(name, value) for name, value in first.items()})
        goes = [(one.name, one.name) for one in known] or [("", "Nothing to replace")]
        offer(self.fields["replace"], goes, self.data["replace"])
        groups = [(group, [agent_choice(one) for one in ones]) for group, ones in agent_choices()]
        start = [("", "Show all that could"), (_REMOVE, "Nothing: leave it out")]
        offer(self.fields["by"], [*start, *groups], self.data["by"])
        keeps = [("", "As the formula asks"), *((k.value, KEPT_NAMES[k]) for k in Keep)]
        offer(self.fields["keep"], keeps, self.data["keep"])

    @property
    def is_graded(self) -> bool:
        """True when something behind "Grade and target" is filled in."""
        return any(self.data[name] for name in ("bloom", "strength", "target", "version"))

    @property
    def ask(self) -> SubstitutionAsk:
        """What is asked for, once the form is valid."""
        values: dict[str, Any] = self.cleaned_data
        by = values["by"].strip()
        return SubstitutionAsk(
            replace=values["replace"],
            by="" if by == _REMOVE else by,
            bloom=values["bloom"],
            strength=values["strength"],
            is_removal=by == _REMOVE,
            keep=values["keep"],
            target=values["target"],
        )
