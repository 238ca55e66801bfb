"""The lines of a card or a bench sheet for another batch than the formula as written."""

import math
import re
from collections.abc import Iterable, Iterator

from setwell.documents.amounts import ounces_text
from setwell.documents.card_parts import CardLine, CardPoint
from setwell.domain.amounts import Amount, AmountKind
from setwell.domain.lines import line_parse
from setwell.engine.assessment import LineReading, Severity
from setwell.engine.scaled_batch import grams_to_weigh
from setwell.engine.scaling import ScaledFormula, ScaledLine
from setwell.units import mass_print, number_print, percent_print

# These hold for every batch, so the line stands as typed.
_SHARES = frozenset({AmountKind.PERCENT, AmountKind.PERCENT_TARGET})
_AMOUNT_IN_STEP = re.compile(
    r"\d\s*(?:g|kg|mg|ml|l|liters?|litres?|cups?|tbsps?|tablespoons?|tsps?|teaspoons?|oz|ounces?"
    r"|lbs?|pounds?|sheets?|pieces?)\b",
    re.IGNORECASE,
)
_DIGIT = re.compile(r"\d")


def batch_line(scaled: ScaledFormula) -> str:
    """Return for which batch the weights are, as in "For 1,200 g, scaled from 606 g"."""
    return f"For {grams_text(scaled.weighed_g)}, scaled from {grams_text(scaled.written_g)}"


def grams_text(grams: float) -> str:
    """Return the weight of a batch in grams, whatever its size.

    >>> grams_text(1200.0), grams_text(606.4), grams_text(12.345)
    ('1,200 g', '606 g', '12.3 g')
    """
    places = 0 if grams >= 99.95 else 1
    text = f"{grams:,.{places}f}"
    return f"{text.removesuffix('.0')} g"


def weight_text(grams: float, readability_g: float | None) -> str:
    """Return a weight with the digits that the scale shows.

    >>> weight_text(350.42, 0.1), weight_text(1250.0, 1.0), weight_text(0.35, None)
    ('350.4 g', '1,250 g', '0.35 g')
    """
    if readability_g is None or not grams > 0:
        return mass_print(grams)
    step = min(readability_g, grams)
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{grams:,.{places}f} g"


def line_scaled(line: LineReading, scaled: ScaledFormula) -> CardLine:
    """Return a line with its scaled weight; the amount it was typed with no longer stands in it."""
    row = next((one for one in scaled.lines if one.number == line.number), None)
    is_agent = line.material_kind == "agent"
    if row is None or line.grams is None:
        return CardLine(
            line.number, line.text.strip(), _unread(line.text.strip(), scaled), "not read", "", "",
            is_agent, is_read=False,
        )  # fmt: skip
    grams = grams_to_weigh(row)
    return CardLine(
        number=line.number,
        text=line.text.strip(),
        name=scaled_name(line.text, scaled.factor),
        weight=weight_text(grams, scaled.readability_g),
        us=ounces_text(grams),
        percent=percent_print(row.percent_rounded) if is_agent else "",
        is_agent=is_agent,
        is_read=True,
    )


def _unread(text: str, scaled: ScaledFormula) -> str:
    own = f" (as typed, for {grams_text(scaled.written_g)})"
    return f"{text}{own}" if _DIGIT.search(text) else text


def scaled_name(text: str, factor: float) -> str:
    """Return a line without its amount; pieces are counted anew beside their weight.

    >>> scaled_name("500 g whole milk, cold", 2.0), scaled_name("2 large eggs", 1.6)
    ('whole milk, cold', 'eggs, about 3.2 large')
    >>> scaled_name("0.6% agar", 2.0), scaled_name("1 1/2 cups (340 g) coconut milk", 2.0)
    ('0.6% agar', 'coconut milk')
    """
    line = line_parse(text)
    amount = line.amount
    is_share = amount is None or amount.kind in _SHARES or line.ratio_with_agent is not None
    if line.problem is not None or not line.name or is_share or amount is None:
        return text.strip()
    notes = [note for note in line.note.split(", ") if note and not _DIGIT.search(note)]
    return ", ".join((line.name, *_counted(amount, factor), *notes))


def _counted(amount: Amount, factor: float) -> Iterator[str]:
    if amount.kind is AmountKind.COUNT:
        count = number_print(round(amount.value * factor, 1))
        unit = amount.size if amount.unit == "each" else f"{amount.unit}s"
        yield f"about {count} {unit}".strip()


def batch_points(scaled: ScaledFormula, steps: Iterable[str]) -> tuple[CardPoint, ...]:
    """Return what to look after in a scaled batch: coarse weights, lines and steps as typed."""
    return tuple(
        CardPoint(Severity.WARN.value, title, "", action)
        for title, action in (*_coarse(scaled.lines, scaled), *_as_typed(scaled, tuple(steps)))
    )


def _coarse(lines: Iterable[ScaledLine], scaled: ScaledFormula) -> Iterator[tuple[str, str]]:
    for line in lines:
        if line.below_one_percent and line.is_agent:
            weight = weight_text(grams_to_weigh(line), scaled.readability_g)
            yield f"{line.name}, {weight}", line.advice


def _as_typed(scaled: ScaledFormula, steps: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    written = grams_text(scaled.written_g)
    if scaled.left_out:
        count = f"{scaled.left_out} lines" if scaled.left_out > 1 else "1 line"
        yield (
            "Not everything is scaled",
            f"{count} could not be read: what stands there is as typed, for {written}.",
        )
    found = [str(number) for number, text in enumerate(steps, 1) if _AMOUNT_IN_STEP.search(text)]
    if found:
        named = f"Step {found[0]} names" if len(found) == 1 else f"Steps {', '.join(found)} name"
        yield (
            "Amounts in the steps",
            f"{named} amounts as typed, for {written}. Unless they are for one mold or portion, "
            f"take {scaled.factor:.3g} times as much.",
        )
