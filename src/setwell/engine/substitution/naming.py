"""The old agent in the steps: struck out, or renamed."""

import re
from collections.abc import Sequence

from setwell.domain.steps import Step, StepKind, step_parse
from setwell.engine.names import name_normalize

_HEATING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_PLAIN = frozenset({"", "powder", "type", "whole", "fresh", "with", "water", "cold", "sheet",
                    "sheets", "starch gum", "high", "acyl"})  # fmt: skip


def steps_without(steps: Sequence[Step], names: Sequence[str], others: Sequence[str]) -> list[Step]:
    """Return the steps with the old agent struck out; one about nothing else goes.

    `names` is what the old agent goes by, `others` all other ingredients.
    """
    words = _words(names)
    other_words = _words(others)
    kept: list[Step] = []
    for step in steps:
        if not _says(step.text, words):
            is_bare = step.kind is StepKind.BLOOM and not _says(step.text, other_words)
            if not is_bare:
                kept.append(step)
        elif step.kind is not StepKind.BLOOM and (
            step.kind in _HEATING or _says(_struck(step.text, words), other_words)
        ):
            kept.append(_reread(step, _struck(step.text, words)))
    return kept


def steps_renamed(steps: Sequence[Step], names: Sequence[str], new: str) -> list[Step] | None:
    """Return the steps with the new name in the old one's place; None where none says it."""
    words = _words(names)
    pattern = re.compile(rf"\b(?:{_any_of(words)})(?:\s+(?:{_any_of(words)}))*\b", re.IGNORECASE)
    renamed = [_reread(step, pattern.sub(new, step.text)) for step in steps]
    said = any(a.text != b.text for a, b in zip(steps, renamed, strict=True))
    return renamed if said else None


def _words(names: Sequence[str]) -> tuple[str, ...]:
    """Return names as a step may say them: whole, and by their telling words."""
    found = []
    for name in names:
        plain = name_normalize(name)
        found += [plain, *(part for part in plain.split() if len(part) > 3)]
    return tuple(dict.fromkeys(one for one in found if one not in _PLAIN))


def _says(text: str, words: Sequence[str]) -> bool:
    said = f" {name_normalize(text)} "
    return any(f" {word} " in said for word in words)


def _struck(text: str, words: Sequence[str]) -> str:
    """Return a step without the old agent: ", the gelatin" or "the gelatin and" goes."""
    names = _any_of(words)
    thing = (
        r"(?:all |of )*(?:the )?(?:bloomed |soaked |drained |squeezed |dissolved )*"
        rf"(?:(?:{names})\s*)+(?:(?:slurry|solution|sheets?|leaves|powder)\s*)?"
    )
    # "Rain the agar into the cold milk": without the agar only the milk is left to do.
    alone = re.sub(
        rf"^\s*[\w-]+ {thing}(?:into|in|onto|over|through) ", "Start with ", text, flags=re.I
    )
    if alone != text:
        return alone
    text = re.sub(rf"(?:,| and| with)\s+{thing}\b(?=\s|,|\.|$)", "", text, flags=re.I)
    text = re.sub(rf"\b{thing}(?:,\s*|and\s+|with\s+)?", "", text, flags=re.I)
    return re.sub(r"\s+([,.])", r"\1", " ".join(text.split()))


def _any_of(words: Sequence[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


def _reread(step: Step, text: str) -> Step:
    return step if step.text == text else step_parse(text)
