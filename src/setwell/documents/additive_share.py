"""What a rule on additives says, in percent of the food as a kitchen weighs it."""

import re

# "13,000 mg/kg" of a rule, and "7000 in dry mixes" of its condition.
_IN_MG = re.compile(r"\b([\d,]+(?= mg/kg)|\d{4,6}(?= in [a-z]))(?: mg/kg)?")
_WHOLE = re.compile(r"[\d,]+ mg/kg(?: of at most [\d,]+ mg/kg)?")
# Less than this stays in mg/kg: a percentage would be all zeros.
_LEAST_MG = 10.0
_FEWEST, _MOST = 3, 8


def in_percent(text: str) -> str:
    """Return a rule's sentence with its figures in percent.

    >>> in_percent("13,000 mg/kg of at most 2,500 mg/kg.")
    '1.3 % of at most 0.25 %.'
    """
    found = [float(one.replace(",", "")) for one in _IN_MG.findall(text)]
    if not found or min(found) < _LEAST_MG:
        return text
    digits = _digits(found)
    return _IN_MG.sub(lambda hit: _percent(float(hit[1].replace(",", "")), digits), text)


def in_mg(text: str) -> str:
    """Return the figures as the rule has them; empty where the sentence kept them.

    >>> in_mg("13,000 mg/kg of at most 2,500 mg/kg (alone or together).")
    '13,000 mg/kg of at most 2,500 mg/kg'
    """
    return "" if in_percent(text) == text else ", ".join(_WHOLE.findall(text))


def _digits(amounts: list[float]) -> int:
    """Return so many digits that nothing above a limit reads as the limit itself."""
    for digits in range(_FEWEST, _MOST):
        if len({_percent(one, digits) for one in amounts}) == len(set(amounts)):
            return digits
    return _MOST


def _percent(mg_kg: float, digits: int) -> str:
    return f"{mg_kg / 1e4:.{digits}g} %"
