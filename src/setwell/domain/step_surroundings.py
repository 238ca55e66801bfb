"""Heat from around: what an oven, a steamer or a bath shows is not yet in the food."""

import re

from setwell.domain.step_figures import temperatures_find
from setwell.domain.step_words import StepKind
from setwell.domain.steps import Step
from setwell.units import text_clean

_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_AROUND = re.compile(
    r"\b(?:bak(?:e|ed|ing)|roast\w*|ovens?|combi|steam(?:er|ed|ing)?|bains?[- ]?marie"
    r"|water[- ]?baths?|sous[- ]?vide|(?:in|into|inside) (?:\w+ ){0,2}(?:bags?|pouch(?:es)?"
    r"|jars?|ramekins?))\b",
    re.IGNORECASE,
)
# Its coldest spot is nobody's to foretell, whatever temperature is aimed at.
_MICROWAVE = re.compile(r"\bmicrowav", re.IGNORECASE)
# The bath itself is brought to a temperature, with nothing in it yet.
_SETS_BATH = re.compile(
    r"\b(?:pre-?heat|heat|set|bring|warm)(?:ing)? (?:the |a |an )?(?:water |steam |combi |hot )?"
    r"(?:bath|oven|steamer|combi)\b",
    re.IGNORECASE,
)
# "in a water bath to 82 °C" and "until the core reads 82 °C" are of the food, "at 82 °C" is not.
_OF_FOOD = re.compile(r"\b(?:to|until|reach\w*)\b[^.;]*$", re.IGNORECASE)
_OF_BATH = re.compile(r"\bat (?:about |around )?$", re.IGNORECASE)


_CORE = re.compile(
    r"\b(?:core|cent(?:er|re)|middle|coldest (?:spot|part|place|point)|thickest part)\b",
    re.IGNORECASE,
)


def tells_core(step: Step) -> bool:
    """Return whether a step heats until its coldest spot itself is at the temperature."""
    if step.temperature_c is None or is_heated_around(step):
        return False
    return step.kind in _WARMING and _CORE.search(text_clean(step.text)) is not None


def is_heated_around(step: Step) -> bool:
    """Return whether a step heats the food from around, and does not tell the food's own heat."""
    if step.kind not in _WARMING:
        return False
    written = text_clean(step.text)
    if _MICROWAVE.search(written) or _SETS_BATH.search(written):
        return True
    if _AROUND.search(written) is None:
        return False
    found = temperatures_find(written, is_thermal=True)
    if found.span is None:
        return True
    before = written[: found.span[0]]
    return _OF_BATH.search(before) is not None or _OF_FOOD.search(before) is None


def is_out_of_pot(step: Step) -> bool:
    """Return whether a step heats the food elsewhere than in the pot, core told or not."""
    if is_heated_around(step):
        return True
    return tells_core(step) and _AROUND.search(text_clean(step.text)) is not None
