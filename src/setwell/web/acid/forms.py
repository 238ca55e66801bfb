"""The form that asks for a pH and, if wanted, for one acid or buffer."""

from typing import Any

from django import forms

from setwell.services.acidity import additive_names
from setwell.web.inputs import NumberField


def _choices() -> list[tuple[str, Any]]:
    known = additive_names()
    return [
        ("", "All"),
        ("Acids", [(one.key, one.name) for one in known if one.is_acid]),
        ("Buffers", [(one.key, one.name) for one in known if not one.is_acid]),
    ]


class AcidForm(forms.Form):
    """The pH to reach, and what with."""

    to = NumberField(label="pH to reach", low=0, high=14)
    additive = forms.ChoiceField(label="With", choices=_choices, required=False)
