"""The list as text: brackets, classes, the phrase for small amounts, emphasized allergens."""

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from setwell.domain.brief import Market
from setwell.engine.labels.statement_results import ListedIngredient, Run
from setwell.tables.labels.allergens import label_allergens

_HEAD = "Ingredients: "


def us_runs(
    main: tuple[ListedIngredient, ...], minor: tuple[ListedIngredient, ...], phrase: str
) -> tuple[Run, ...]:
    """Return the list for the United States, with small amounts behind the phrase."""
    names = [_us_name(item) for item in main]
    if minor:
        small = ", ".join(_us_name(item) for item in minor)
        names.append(f"{phrase.lower()}: {small}" if names else f"{phrase}: {small}")
    return (Run(f"{_HEAD}{', '.join(names)}."),) if names else ()


def _us_name(item: ListedIngredient) -> str:
    inner = ", ".join(_us_name(part) for part in item.parts)
    name = f"{item.name} ({inner})" if inner else item.name
    untold = [word for word in item.allergens if word == _sulfite(Market.US)]
    return f"{name} ({', '.join(untold)})" if untold and untold[0] not in name else name


def _sulfite(market: Market) -> str:
    return label_allergens()[(market.value, "sulfite", "")].name


def eu_runs(
    items: tuple[ListedIngredient, ...], *, by_number: bool, shares: Mapping[str, str]
) -> tuple[Run, ...]:
    """Return the list for the EU; every allergen is emphasized wherever it is named."""
    if not items:
        return ()
    runs = [Run(_HEAD), *_eu_items(items, by_number=by_number, shares=shares), Run(".")]
    return tuple(
        Run("".join(run.text for run in group), is_emphasized)
        for is_emphasized, group in groupby(runs, key=lambda run: run.is_emphasized)
    )


def _eu_items(
    items: Iterable[ListedIngredient], *, by_number: bool, shares: Mapping[str, str]
) -> Iterator[Run]:
    for place, item in enumerate(items):
        if place:
            yield Run(", ")
        yield from _emphasized(_eu_name(item, by_number=by_number, shares=shares), item)
        if item.parts:
            yield Run(" (")
            yield from _eu_items(item.parts, by_number=by_number, shares=shares)
            yield Run(")")


def _eu_name(item: ListedIngredient, *, by_number: bool, shares: Mapping[str, str]) -> str:
    name = shares.get(item.name, item.name)
    if not item.additive_class:
        return name
    if item.additive_class == item.name:
        return name
    if by_number and item.e_numbers:
        name = ", ".join(item.e_numbers)
    return f"{item.additive_class}: {name}"


def _emphasized(name: str, item: ListedIngredient) -> Iterator[Run]:
    """Emphasize the words that tell an allergen; add in brackets what no word tells."""
    spans: list[tuple[int, int]] = []
    untold: list[str] = []
    for allergen in item.allergens:
        found = [match.span() for word in _words(allergen) for match in _pattern(word, name)]
        spans += found
        if not found:
            untold.append(allergen)
    yield from _cut(name, spans)
    if untold:
        yield Run(" (")
        for place, allergen in enumerate(untold):
            if place:
                yield Run(", ")
            yield Run(allergen, is_emphasized=True)
        yield Run(")")


def _words(name: str) -> tuple[str, ...]:
    """Return the words that tell an allergen, by its name on the label."""
    for named in label_allergens().values():
        if named.market == Market.EU.value and named.name == name:
            return named.words
    return (name,)


def _pattern(word: str, name: str) -> Iterator[re.Match[str]]:
    return re.finditer(rf"\b{re.escape(word)}\w*", name, re.IGNORECASE)


def _cut(name: str, spans: list[tuple[int, int]]) -> Iterator[Run]:
    place = 0
    for start, end in sorted(set(spans)):
        if start < place:
            continue
        if start > place:
            yield Run(name[place:start])
        yield Run(name[start:end], is_emphasized=True)
        place = end
    if place < len(name):
        yield Run(name[place:])
