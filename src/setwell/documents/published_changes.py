"""What changed between two published versions, in sentences for those who follow the card."""

from collections.abc import Iterable, Iterator

from setwell.engine.difference import FormulaDifference, LineDifference
from setwell.units import mass_print

# More than this nobody reads; the rest is counted.
_MOST = 12
_ALLERGENS = "Allergens"
_SPOKEN = frozenset({_ALLERGENS, "Texture"})


def change_lines(difference: FormulaDifference) -> tuple[str, ...]:
    """Return what changed, allergens first; nothing where both versions are the same."""
    if difference.is_same:
        return ()
    found = [
        *_values(difference),
        *_lines(difference.lines, "Ingredient"),
        *_lines(difference.steps, "Step"),
        *_settings(difference),
    ]
    if not found:
        return ("Only the notes changed.",)
    more = len(found) - _MOST
    return tuple(found) if more <= 0 else (*found[:_MOST], f"And {more} more changes.")


def _values(difference: FormulaDifference) -> Iterator[str]:
    changed = [row for row in difference.values if row.is_changed and row.label in _SPOKEN]
    for row in sorted(changed, key=lambda row: row.label != _ALLERGENS):
        yield f"{row.label} before: {_said(row.first_text)}. Now: {_said(row.second_text)}."


def _lines(rows: Iterable[LineDifference], what: str) -> Iterator[str]:
    for row in rows:
        if row.kind == "added":
            yield f"{what} added: {row.second}"
        elif row.kind == "removed":
            yield f"{what} left out: {row.first}"
        elif row.kind == "changed" and row.first != row.second:
            yield f"{what} changed: “{row.first}” is now “{row.second}”"
        elif row.kind == "changed" and row.first_g is not None and row.second_g is not None:
            now, before = mass_print(row.second_g), mass_print(row.first_g)
            yield f"{what} {row.second}: now {now}, before {before}"


def _settings(difference: FormulaDifference) -> Iterator[str]:
    labels = [row.label for row in difference.settings if row.label not in {"notes", "parts"}]
    if labels:
        yield f"Also changed: {', '.join(labels)}."


def _said(text: str) -> str:
    return text.strip().rstrip(".") or "none"
