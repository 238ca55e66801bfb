"""Whose share the EU may want beside its name, and how the share is counted."""

import re
from collections.abc import Iterator

from setwell.domain.brief import Market
from setwell.engine.labels.label_names import label_name
from setwell.engine.labels.statement_parts import Part, parts_of
from setwell.engine.labels.statement_results import LabelChoices, QuidCandidate
from setwell.engine.rules.bench import Bench
from setwell.provenance import Citation, Grade
from setwell.tables.labels.food_categories import FoodCategory
from setwell.tables.labels.thresholds import label_thresholds

_EVIDENCE = (Citation("eu_1169_2011", "article 22 and Annex VIII, recalled", Grade.UNVERIFIED),)
_WORD = re.compile(r"[^\W\d_]{3,}")
_STEM_LEAST = 4
# Words of a title or a name that do not name an ingredient.
_EMPTY = frozenset(
    {
        "and", "the", "with", "without", "for", "low", "dark", "dried", "fresh", "ground", "heavy",
        "light", "raw", "red", "set", "sweet", "white", "whole", "black", "green", "brown",
    }
)  # fmt: skip


def quid_percent(grams: float, *, ingredients_g: float, finished_g: float) -> tuple[float, bool]:
    """Return the share of an ingredient in percent, and whether it is over 100.

    The share is of all ingredients as they go in; where water is lost on the way, of the
    finished food. More than 100 % is told as a weight per 100 g.
    """
    total = finished_g if finished_g < ingredients_g else ingredients_g
    if not total > 0:
        return 0.0, False
    percent = 100.0 * grams / total
    return percent, percent > 100.0


def quid_wording(name: str, percent: float) -> str:
    """Return the share as the list tells it."""
    if percent > 100.0:
        return f"prepared with {percent:.0f} g of {name} per 100 g"
    head, bracket, rest = name.partition(" (")
    share = f"{percent:.0f} %" if percent >= 10 else f"{percent:.1f} %"
    return f"{head} {share}{bracket}{rest}"


def quid_candidates(
    bench: Bench, category: FoodCategory, choices: LabelChoices
) -> tuple[QuidCandidate, ...]:
    """Return the ingredients whose share may have to be told; a person decides which."""
    parts = [part for part in parts_of(bench) if not part.is_water]
    shares: dict[str, tuple[float, tuple[int, ...], str]] = {}
    for part, held in _with_inner(parts):
        why = _reason(part, bench.formula.title, category, choices)
        if why:
            name = label_name(part, Market.EU, {}).text
            grams, lines, reason = shares.get(name, (0.0, (), why))
            shares[name] = (grams + held, tuple(sorted({*lines, *part.lines})), reason)
    state = bench.state.composition
    return tuple(
        _candidate(name, grams, lines, reason, ingredients_g=float(state.ingredients_g[0]),
                   finished_g=float(state.finished_g[0]))
        for name, (grams, lines, reason) in shares.items()
    )  # fmt: skip


def _with_inner(parts: list[Part]) -> Iterator[tuple[Part, float]]:
    for part in parts:
        yield part, part.grams
        yield from ((leaf, leaf.grams) for leaf in part.leaves() if leaf is not part)


def _candidate(
    name: str,
    grams: float,
    lines: tuple[int, ...],
    reason: str,
    *,
    ingredients_g: float,
    finished_g: float,
) -> QuidCandidate:
    percent, _ = quid_percent(grams, ingredients_g=ingredients_g, finished_g=finished_g)
    if percent < label_thresholds()[("quid", "eu")].value:
        reason += "; so little may only flavor, and its share may then be left out"
    return QuidCandidate(name, percent, quid_wording(name, percent), reason, lines, _EVIDENCE)


def _reason(part: Part, title: str, category: FoodCategory, choices: LabelChoices) -> str:
    words = _stems(f"{part.typed} {part.title} {label_name(part, Market.EU, {}).text}")
    if words & _stems(title):
        return "it is named in the name of the food"
    if words & _stems(" ".join(choices.emphasized)):
        return "words or pictures dwell on it"
    is_fruit = part.material is not None and part.material.group == "fruit"
    if category.is_fruit_named and is_fruit:
        return "fruit usually characterizes this kind of food"
    return ""


def _stems(text: str) -> set[str]:
    """Return the words of a text without their endings: "malted" names the malt."""
    words = {word.casefold() for word in _WORD.findall(text)} - _EMPTY
    return {_stem(_singular(word)) for word in words}


def _stem(word: str) -> str:
    for ending in ("ed", "y", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= _STEM_LEAST:
            return word.removesuffix(ending)
    return word


def _singular(word: str) -> str:
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word
