"""The method on a card: sentences as typed, with what was read in them."""

import hashlib
from collections.abc import Iterable

from setwell.documents.amounts import temperatures_in
from setwell.documents.card_parts import CardStep
from setwell.engine.assessment import StepReading

__all__ = ["CardStep", "step_key", "steps_as_typed"]

_SENTENCE_ENDS = (".", "!", "?", ";")


def step_key(text: str) -> str:
    """Return the same key for the same words, whatever their case, spaces and full stop.

    >>> step_key("Heat to 85 °C.") == step_key(" heat  to 85 °C")
    True
    """
    words = " ".join(text.casefold().split()).rstrip(".!; ")
    return hashlib.sha256(words.encode()).hexdigest()


def steps_as_typed(typed: str, readings: Iterable[StepReading]) -> tuple[CardStep, ...]:
    """Return the steps with a sentence in one piece, also where it was read as several steps.

    >>> parts = [StepReading(1, "Cool to 35 °C,", "cool", "cool · 35 °C", ""),
    ...          StepReading(2, "then stir.", "mix", "mix", "")]
    >>> [step.text for step in steps_as_typed("Cool to 35 °C, then stir.", parts)]
    ['Cool to 35 °C, then stir.']
    """
    lines = [" ".join(line.split()) for line in typed.splitlines()]
    joined: list[list[StepReading]] = []
    for reading in readings:
        if joined and _goes_on(joined[-1], reading, lines):
            joined[-1].append(reading)
        else:
            joined.append([reading])
    return tuple(_step(number, parts) for number, parts in enumerate(joined, start=1))


def _goes_on(parts: list[StepReading], reading: StepReading, lines: list[str]) -> bool:
    text = _text(parts)
    if text.endswith(_SENTENCE_ENDS):
        return False
    whole = f"{text} {' '.join(reading.text.split())}"
    return any(whole in line for line in lines)


def _text(parts: list[StepReading]) -> str:
    return " ".join(" ".join(part.text.split()) for part in parts)


def _step(number: int, parts: list[StepReading]) -> CardStep:
    found = [text for part in parts for text in temperatures_in(part.reading)]
    return CardStep(number, _text(parts), ", ".join(dict.fromkeys(found)))
