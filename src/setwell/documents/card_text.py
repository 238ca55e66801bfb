"""The card as plain text for a terminal or a message, 80 columns wide."""

import re
import textwrap
from collections.abc import Iterable

from setwell.documents.card import Card, CardLine, CardPoint
from setwell.documents.key_numbers import CardNumber

WIDTH = 80
NO_BREAK = "\u00a0"

# The space between a number and its unit, where a line must not break.
_UNIT_SPACE = re.compile(r"(?<=\d) (?=°|%|g\b|kg\b|mL\b)")


def card_text(card: Card) -> str:
    """Return the whole card as text."""
    blocks = [_head(card), _labels(card)]
    if card.must_stop:
        blocks.append(_open_points(card))
    blocks += [_ingredients(card), _listed("Must happen", card.critical_points), _method(card)]
    blocks += [_listed("How to tell it went right", card.success_signs), _numbers(card)]
    if not card.must_stop:
        blocks.append(_open_points(card))
    blocks += [_cautions(card), _notes(card), _foot(card)]
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(card: Card) -> str:
    facts = [card.yield_line]
    facts += [f"Goal: {card.goal}"] if card.goal else []
    facts += [f"Serve at {card.serving_temperature}"] if card.serving_temperature else []
    top = f"{card.kitchen_name} · {card.version_label} · {card.short_hash}"
    rows = [*_wrapped(card.title.upper()), *_wrapped(top)]
    for fact in facts:
        rows += _wrapped(fact)
    return "\n".join([*rows, "=" * WIDTH])


def _ingredients(card: Card) -> str:
    rows = []
    for phase in card.phases:
        rows.append(phase.heading or "Ingredients")
        for line in phase.lines:
            rows += _line(line)
        rows.append("")
    return "\n".join(rows).rstrip()


def _line(line: CardLine) -> Iterable[str]:
    lead = f"  {line.weight:>9}  {line.us:<14} {line.percent:>7}  "
    return _hanging(lead, line.text or "-")


def _method(card: Card) -> str:
    rows = ["Method"] if card.steps else []
    for step in card.steps:
        heat = f" [{step.temperature}]" if step.temperature else ""
        rows += _hanging(f"  {step.number:>2}. ", step.text + heat)
    return "\n".join(rows)


def _numbers(card: Card) -> str:
    if not card.key_numbers:
        return ""
    rows = [f"{'Key numbers':<29}{'value':<16}{'range':<24}grade"]
    for item in card.key_numbers:
        rows += _number(item)
    return "\n".join(rows)


def _number(item: CardNumber) -> Iterable[str]:
    labels = textwrap.wrap(item.label, 26) or [""]
    yield f"  {labels[0]:<26} {item.value:<15} {item.range:<23} {item.grade}"
    for label in labels[1:]:
        yield f"    {label}"


def _open_points(card: Card) -> str:
    rows = ["Open points"] if card.open_points else []
    for point in card.open_points:
        rows += _hanging(f"  {point.severity.upper():<4} ", point_sentence(point))
    return "\n".join(rows)


def point_sentence(point: CardPoint) -> str:
    """Return an open point as one run of text."""
    title = point.title.rstrip(".")
    return " ".join(part for part in (f"{title}.", point.text, point.action) if part)


def _labels(card: Card) -> str:
    found = "; ".join(card.allergens) or "none found in what was read"
    rows = _wrapped(f"Allergens: {found}")
    if card.diets:
        rows += _wrapped(f"Diets, by its ingredients: {'; '.join(card.diets)}")
    return "\n".join(rows)


def _cautions(card: Card) -> str:
    rows = ["Cautions"]
    for caution in card.cautions:
        rows += _hanging("  ! ", f"{caution.title.rstrip('.')}. {caution.text}")
    return "\n".join([*rows, *_hanging("  ", card.deferral)])


def _notes(card: Card) -> str:
    rows = ["Notes"] if card.notes else []
    for paragraph in card.notes.splitlines():
        rows += _hanging("  ", paragraph)
    return "\n".join(rows)


def _foot(card: Card) -> str:
    return "\n".join(["-" * WIDTH, *_wrapped(card.remark), *_wrapped(card.content_hash)])


def _listed(title: str, points: Iterable[str]) -> str:
    rows = [row for point in points for row in _hanging("  * ", point)]
    return "\n".join([title, *rows]) if rows else ""


def _wrapped(text: str) -> list[str]:
    return _hanging("", text)


def _hanging(lead: str, text: str) -> list[str]:
    kept = _UNIT_SPACE.sub(NO_BREAK, text)
    rows = textwrap.wrap(kept, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead))
    return [row.replace(NO_BREAK, " ") for row in rows] or [lead.rstrip()]
