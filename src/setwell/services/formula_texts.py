"""A formula as plain text, and back."""

import re
from collections.abc import Callable, Mapping

from setwell.domain.formula import Diet, Formula, Goal, MoldPlan, formula_make
from setwell.domain.formula_text import FormulaText, formula_text_parse, formula_text_print
from setwell.errors import DocumentError, InputError
from setwell.units import number_parse, temperature_parse, volume_parse

# A header value stands on one line; this marks where the notes had a line end.
_LINE_END = "¶"
_MOLDS = re.compile(r"(\d{1,5})\s*[x×*]\s*(.+)")
_BLANK_ENDS = re.compile(r"\A(?:[^\S\n]*\n)+|(?:\n[^\S\n]*)+\Z")


def formula_text_read(text: str) -> Formula:
    """Return the formula that a plain text holds, or say which header line is wrong."""
    parts = formula_text_parse(text)
    fields: dict[str, object] = {}
    for key, value in parts.header.items():
        name, read = _READERS[key]
        try:
            fields[name] = read(value)
        except InputError as error:
            raise DocumentError(
                f"In the line “{key}: {value[:60]}”: {error.message}", field=name, hint=error.hint
            ) from None
    return formula_make(
        title=parts.title, ingredients=parts.ingredients, steps=parts.steps, **fields
    )


def formula_text_write(formula: Formula) -> str:
    """Return the formula as plain text; pins to other formulas are left to the JSON form."""
    written = FormulaText(
        title=formula.title,
        header=_header(formula),
        ingredients=_trimmed(formula.ingredients),
        steps=_trimmed(formula.steps),
    )
    try:
        return formula_text_print(written)
    except DocumentError as error:
        raise DocumentError(error.message, hint=f"{error.hint} Or export it as JSON.") from None


def _header(formula: Formula) -> Mapping[str, str]:
    molds = formula.molds
    celsius = formula.serving_temperature_c
    header = {
        "goal": "" if formula.goal is Goal.UNSPECIFIED else formula.goal.value,
        "diets": ", ".join(diet.value for diet in formula.diets),
        "portions": "" if formula.portions is None else str(formula.portions),
        "molds": "" if molds is None else f"{molds.count} x {_number(molds.volume_ml)} mL",
        "evaporation": f"{_number(formula.evaporation_pct)} %" if formula.evaporation_pct else "",
        "loss": f"{_number(formula.loss_pct)} %" if formula.loss_pct else "",
        "serve": "" if celsius is None else f"{_number(celsius)} °C",
        "notes": f" {_LINE_END} ".join(" ".join(x.split()) for x in formula.notes.splitlines()),
    }
    return {key: value.strip() for key, value in header.items() if value.strip()}


def _number(value: float) -> str:
    # Eight digits: more than any scale has, and fewer than a typing mistake makes.
    text = f"{value:.8g}"
    return f"{value:.8f}".rstrip("0").rstrip(".") if "e" in text else text


def _trimmed(text: str) -> str:
    return _BLANK_ENDS.sub("", text) if text.strip() else ""


def _goal(text: str) -> Goal:
    try:
        return Goal(text.strip().casefold())
    except ValueError:
        raise InputError("this is not a goal.", hint=f"Write one of {', '.join(Goal)}.") from None


def _diets(text: str) -> tuple[Diet, ...]:
    try:
        return tuple(Diet(one.strip().casefold()) for one in text.split(",") if one.strip())
    except ValueError:
        raise InputError(
            "this is not a diet.", hint=f"Write one or more of {', '.join(Diet)}."
        ) from None


def _portions(text: str) -> int:
    number = number_parse(text.strip())
    if not number.is_integer():
        raise InputError("portions come in whole numbers.")
    return int(number)


def _molds(text: str) -> MoldPlan:
    match = _MOLDS.fullmatch(text.strip())
    if match is None:
        raise InputError("this does not say how many molds of what size.", hint="Write 24 x 80 mL.")
    count, volume = int(match[1]), volume_parse(match[2])
    if not (1 <= count <= 10_000 and 0 < volume <= 100_000):
        raise InputError(
            f"{count} molds of {volume:g} mL are outside 1 to 10,000 molds of up to 100 L."
        )
    return MoldPlan(count=count, volume_ml=volume)


def _percent(text: str) -> float:
    return number_parse(text.strip().removesuffix("%").strip())


def _notes(text: str) -> str:
    return "\n".join(part.strip() for part in text.split(_LINE_END))


_READERS: Mapping[str, tuple[str, Callable[[str], object]]] = {
    "goal": ("goal", _goal),
    "diets": ("diets", _diets),
    "portions": ("portions", _portions),
    "molds": ("molds", _molds),
    "evaporation": ("evaporation_pct", _percent),
    "loss": ("loss_pct", _percent),
    "serve": ("serving_temperature_c", temperature_parse),
    "notes": ("notes", _notes),
}
