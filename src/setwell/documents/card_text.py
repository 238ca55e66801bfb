"""The card as plain text for a terminal or a message, 80 columns wide."""

import re
import textwrap
from collections.abc import Iterable

from setwell.documents.card import Card, CardKind, CardLine, CardPoint, CardStep, LotBox
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
    blocks += [_ingredients(card), _listed("What must happen", card.critical_points), _method(card)]
    blocks += [_listed("How to tell it went right", card.success_signs), _numbers(card)]
    if not card.must_stop:
        blocks.append(_open_points(card))
    blocks += [_lots(card), _storage(card), _cautions(card), _notes(card), _foot(card)]
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(card: Card) -> str:
    facts = [f"{card.batch_line}."] if card.batch_line else []
    facts += [card.yield_line]
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
            rows += _line(line, tick="[ ]" if card.kind is CardKind.BENCH else "")
        rows.append("")
    return "\n".join(rows).rstrip()


def _line(line: CardLine, *, tick: str) -> Iterable[str]:
    lead = f"{tick:<3}{line.weight:>8}  {line.us:<14} {line.percent:>7}  "
    return _hanging(lead, line.name or "-")


def _method(card: Card) -> str:
    rows = ["Method"] if card.steps else []
    for step in card.steps:
        rows += _step(step, tick="[ ]" if card.kind is CardKind.BENCH else "")
    return "\n".join(rows)


def _step(step: CardStep, *, tick: str) -> Iterable[str]:
    heat = f" [{step.temperature}]" if step.temperature else ""
    decides = f" ** {', '.join(step.points)}" if step.points else ""
    yield from _hanging(f"{tick:<2}{step.number:>2}. ", step.text + heat + decides)
    for reason in step.why:
        yield from _hanging("      Why: ", f"{reason.text} {reason.marks}".rstrip())


def _lots(card: Card) -> str:
    rows = ["With another lot"] if card.lot_boxes else []
    for box in card.lot_boxes:
        rows += _lot(box)
    return "\n".join(rows)


def _lot(box: LotBox) -> Iterable[str]:
    yield from _hanging("  ", f"{box.name}, {box.weight} on this card. {box.basis}")
    yield f"    {'strength':>8}  {'weigh':>10}"
    for dose in box.doses:
        yield f"    {dose.strength:>8}  {dose.weight:>10}{'  yours' if dose.is_own else ''}"
    yield from _hanging("  ", box.note)


def _storage(card: Card) -> str:
    return _listed("Storage", (f"{note.text} {note.marks}".rstrip() for note in card.storage))


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
    if card.traces:
        rows += _wrapped(card.traces)
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
    rows = ["-" * WIDTH, *_wrapped(card.remark)]
    for source in card.sources:
        rows += _hanging(f"[{source.number}] ", f"{source.text} ({source.grade})")
    # An address is of no use in two pieces.
    rows += [f"This card: {card.address}"] if card.address else []
    return "\n".join([*rows, *_wrapped(card.content_hash)])


def _listed(title: str, points: Iterable[str]) -> str:
    rows = [row for point in points for row in _hanging("  * ", point)]
    return "\n".join([title, *rows]) if rows else ""


def _wrapped(text: str) -> list[str]:
    return _hanging("", text)


def _hanging(lead: str, text: str) -> list[str]:
    kept = _UNIT_SPACE.sub(NO_BREAK, text)
    rows = textwrap.wrap(kept, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead))
    return [row.replace(NO_BREAK, " ") for row in rows] or [lead.rstrip()]
