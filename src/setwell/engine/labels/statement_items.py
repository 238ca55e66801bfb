"""Ingredients under their label names, joined and in falling order of weight."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from setwell.domain.brief import Market
from setwell.engine.labels.allergen_statement import listed_in
from setwell.engine.labels.label_names import label_name
from setwell.engine.labels.statement_parts import Part
from setwell.engine.labels.statement_results import AddedWater, LabelChoices, ListedIngredient
from setwell.provenance import Citation, evidence_join
from setwell.tables.labels.allergens import label_allergens
from setwell.tables.labels.thresholds import label_thresholds

_WATER = "water"


@dataclass(frozen=True, slots=True)
class ListRules:
    """How a list is made; `sulfite_keys` are the materials that are told to bring sulfites."""

    market: Market
    choices: LabelChoices
    finished_g: float
    sulfite_keys: frozenset[str]


def added_water(*, finished_g: float, others_g: float, lists_all: bool = False) -> AddedWater:
    """Return the water that counts as an ingredient in the EU.

    It is the finished weight less all other ingredients as they went in, and never below zero.
    Up to 5 % of the finished weight it need not be listed, but for meat and raw fish it must.
    """
    threshold = label_thresholds()[("added_water", "eu")]
    grams = max(finished_g - others_g, 0.0)
    percent = 100.0 * grams / finished_g if finished_g > 0 else 0.0
    is_listed = grams > 0 and (lists_all or percent > threshold.value)
    told = "listed" if is_listed else "need not be listed"
    return AddedWater(
        grams,
        percent,
        is_listed,
        f"Added water in the finished food: {grams:.3g} g, {percent:.2f} %; {told} "
        f"(limit {threshold.value:g} %).",
        (threshold.citation,),
    )


def items_of(
    parts: tuple[Part, ...], rules: ListRules, water: AddedWater | None = None
) -> tuple[ListedIngredient, ...]:
    """Return the names in the order of the list; `water` stands for all plain water (EU)."""
    listed = [_item(part, rules) for part in parts if water is None or not part.is_water]
    if water is not None and water.is_listed:
        lines = sorted({number for part in parts if part.is_water for number in part.lines})
        listed.append(_water_item(water, tuple(lines), rules))
    joined = _joined(listed)
    return tuple(sorted(joined, key=lambda one: -one.grams))


def _water_item(water: AddedWater, lines: tuple[int, ...], rules: ListRules) -> ListedIngredient:
    share = _percent(water.grams, rules)
    return ListedIngredient(_WATER, _WATER, water.grams, share, lines, evidence=water.evidence)


def _percent(grams: float, rules: ListRules) -> float:
    return 100.0 * grams / rules.finished_g if rules.finished_g > 0 else 0.0


def _item(part: Part, rules: ListRules) -> ListedIngredient:
    named = label_name(part, rules.market, rules.choices.wordings)
    telling, origin = _allergens(part, rules)
    return ListedIngredient(
        key=part.key,
        name=named.text,
        grams=part.grams,
        percent=_percent(part.grams, rules),
        lines=part.lines,
        additive_class="" if named.is_typed else named.additive_class,
        e_numbers=() if named.is_typed else named.e_numbers,
        allergens=telling,
        parts=_inner(part, rules),
        check=named.check,
        lists_parts=named.lists_parts,
        evidence=evidence_join([named.evidence, origin]),
    )


def _inner(part: Part, rules: ListRules) -> tuple[ListedIngredient, ...]:
    if part.material is not None:
        return ()
    if rules.market is not Market.EU:
        return items_of(part.parts, rules)
    others = sum(one.grams for one in part.parts if not one.is_water)
    water = added_water(finished_g=part.grams, others_g=others, lists_all=True)
    return items_of(part.parts, rules, water)


def _allergens(part: Part, rules: ListRules) -> tuple[tuple[str, ...], tuple[Citation, ...]]:
    """Return the words that have to be told with a name, and where that is written."""
    if part.material is None:
        return (), ()
    named = listed_in(part.material, rules.market)
    words, cited = [], []
    for one in named:
        species = " ".join(rules.choices.species.get(one.allergen, "").split())
        words.append(species if one.needs_species and species else one.name)
        cited.append(one.citation)
    if part.material.key in rules.sulfite_keys:
        sulfite = label_allergens()[(rules.market.value, "sulfite", "")]
        words.append(sulfite.name)
        cited.append(sulfite.citation)
    return tuple(dict.fromkeys(words)), tuple(cited)


def _joined(listed: Iterable[ListedIngredient]) -> list[ListedIngredient]:
    """Join what has the same name: two lines of sugar are one ingredient."""
    found: dict[tuple[str, str, bool], ListedIngredient] = {}
    for one in listed:
        name = (one.name, one.additive_class, bool(one.parts))
        found[name] = _both(found[name], one) if name in found else one
    return list(found.values())


def _both(first: ListedIngredient, second: ListedIngredient) -> ListedIngredient:
    return replace(
        first,
        grams=first.grams + second.grams,
        percent=first.percent + second.percent,
        lines=tuple(sorted({*first.lines, *second.lines})),
        e_numbers=tuple(dict.fromkeys((*first.e_numbers, *second.e_numbers))),
        allergens=tuple(dict.fromkeys((*first.allergens, *second.allergens))),
        parts=tuple(sorted(_joined((*first.parts, *second.parts)), key=lambda inner: -inner.grams)),
        check=first.check or second.check,
        lists_parts=first.lists_parts or second.lists_parts,
        evidence=evidence_join([first.evidence, second.evidence]),
    )


def flat(items: Iterable[ListedIngredient]) -> Iterator[ListedIngredient]:
    """Yield every name, those in brackets too."""
    for item in items:
        yield item
        yield from flat(item.parts)
