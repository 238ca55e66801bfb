"""The texture of a formula for people, and as JSON."""

from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.amounts import estimate_text, range_text
from setwell.documents.texture_numbers import (
    TextureNumber,
    pot_told,
    readings_told,
    requirement_told,
    texture_numbers,
    word_meanings,
)
from setwell.services.results import Assessment, Verdict

# Longer words stand below the table.
_SHORT = 24
_MET = {Verdict.YES: "met", Verdict.NO: "not met", Verdict.CANNOT_TELL: "cannot tell"}


def texture_json(result: Assessment) -> str:
    """Return the texture and its agents as JSON text."""
    content = {"texture": result.texture, "agents": result.agents}
    return json_text("texture", content)


def texture_print(result: Assessment) -> None:
    """Print the texture of a formula in 80 columns."""
    screen = Screen()
    screen.text(result.formula.title, style="bold")
    screen.text(result.texture.sentence or "Nothing can be said about the texture.")
    if not result.is_complete:
        screen.text("Not every line could be read, so every number leaves something out.")
    texture_rows_print(screen, result)
    _agents(screen, result)


def texture_rows_print(screen: Screen, result: Assessment) -> None:
    """Print the numbers of a texture with their remarks; nothing without an agent."""
    numbers = texture_numbers(result)
    if not result.agents:
        return
    screen.heading("Texture")
    for word, meaning in word_meanings(result.texture):
        screen.text(f"{meaning}.", lead=f"  {word}: ")
    if numbers:
        rows = [_row(number) for number in numbers]
        screen.table(("what", "value", "range", "grade"), rows, fixed=(2, 3))
    for number in numbers:
        below = (number.words if _is_below(number) else "", number.remark.rstrip("."))
        said = "; ".join(part for part in below if part)
        if said:
            screen.text(f"{said}.", lead=f"  {number.label}: ")
    for note in result.texture.notes:
        screen.text(note.text, lead=f"  {'Known' if note.is_known else 'Simply added'}: ")
    if any(number.estimate is not None for number in numbers):
        screen.text(readings_told(result))


def _row(number: TextureNumber) -> tuple[str, str, str, str]:
    if number.estimate is None:
        return number.label, number.words, "", ""
    estimate = number.estimate
    value = estimate_text(estimate)
    if number.words and not _is_below(number):
        value = f"{value}, {number.words}"
    return number.label, value, range_text(estimate), estimate.grade.value


def _is_below(number: TextureNumber) -> bool:
    return number.estimate is not None and len(number.words) > _SHORT


def _agents(screen: Screen, result: Assessment) -> None:
    for agent in result.agents:
        screen.heading(agent.name)
        for reason in (agent.hydration_reason, agent.set_reason, pot_told(agent.gel.zones)):
            if reason:
                screen.text(reason, lead="  ")
        for need in agent.gel.requirements:
            said = f"{_MET[need.verdict]}; {requirement_told(need)}."
            screen.text(said, lead=f"  {need.what}: ")
