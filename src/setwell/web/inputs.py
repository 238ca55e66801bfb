"""Form fields of the kitchen: numbers as people type them, lists on lines."""

import math
import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms.renderers import TemplatesSetting


class FieldRenderer(TemplatesSetting):
    """Draw every field with our own label, hint and message."""

    field_template_name = "parts/field.html"


class NumberField(forms.CharField):
    """A number with limits; takes a decimal comma and says what was wrong with the value."""

    widget = forms.TextInput

    def __init__(
        self,
        *,
        low: float,
        high: float,
        unit: str = "",
        is_whole: bool = False,
        above: bool = False,
        **options: Any,  # noqa: ANN401 - options of the framework's field
    ) -> None:
        self.low, self.high, self.unit = low, high, unit
        self.is_whole, self.above = is_whole, above
        options.setdefault("required", False)
        options.setdefault("error_messages", {"required": "Write a number here."})
        super().__init__(**options)
        mode = "numeric" if is_whole else "decimal"
        self.widget.attrs.update({"inputmode": mode, "autocomplete": "off", "class": "number"})

    def clean(self, value: Any) -> Any:  # noqa: ANN401 - the framework's signature
        """Return the number, or None when left empty."""
        text = _without_separators(str(super().clean(value)).strip())
        if not text:
            return None
        number = self._number(text)
        too_low = number < self.low or (self.above and number == self.low)
        if too_low or number > self.high:
            raise ValidationError(f"{_short(text)} is not possible here: {self._limits()}.")
        return int(number) if self.is_whole else number

    def _number(self, text: str) -> float:
        try:
            number = float(text)
        except ValueError:
            raise ValidationError(f"“{_short(text)}” is not a number: {self._limits()}.") from None
        if not math.isfinite(number):
            raise ValidationError(f"{_short(text)} is not possible here: {self._limits()}.")
        if self.is_whole and number != int(number):
            raise ValidationError(f"{_short(text)} is not a whole number: {self._limits()}.")
        return number

    def _limits(self) -> str:
        start = "write a number above" if self.above else "write a number from"
        link = "up to" if self.above else "to"
        unit = f" {self.unit}" if self.unit else ""
        return f"{start} {self.low:g} {link} {self.high:,.10g}{unit}"


class LinesField(forms.CharField):
    """A list with one entry on each line."""

    def __init__(self, **options: Any) -> None:  # noqa: ANN401 - options of the framework's field
        options.setdefault("required", False)
        options.setdefault("widget", forms.Textarea(attrs={"rows": 3}))
        super().__init__(**options)

    def clean(self, value: Any) -> Any:  # noqa: ANN401 - the framework's signature
        """Return the entries without empty ones."""
        text = str(super().clean(value))
        return tuple(line.strip() for line in text.splitlines() if line.strip())

    def prepare_value(self, value: Any) -> Any:  # noqa: ANN401 - the framework's signature
        """Show a stored list as lines."""
        return "\n".join(value) if isinstance(value, (tuple, list)) else value


def _without_separators(text: str) -> str:
    # 1,250 is a thousand and more; 0,5 and 1,5 are decimal commas.
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d*)?", text):
        return text.replace(",", "")
    return text.replace(",", ".").replace("−", "-").replace("_", "?")


def _short(text: str) -> str:
    return text if len(text) <= 20 else f"{text[:20]}…"


def number_initial(value: float | None) -> str:
    """Return a stored number as a person would type it."""
    return "" if value is None else f"{value:.10g}"
