"""Allergens as a label tells them: nine in the United States, fourteen in the EU."""

from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType

from setwell.domain.brief import Market
from setwell.engine.diets import material_lines
from setwell.engine.labels.label_names import plain_name
from setwell.engine.labels.statement_results import (
    DeclaredAllergen,
    LabelChoices,
    Question,
    ThresholdSum,
)
from setwell.engine.material import Material
from setwell.engine.plan import Plan
from setwell.engine.verdict import Verdict
from setwell.tables.agents import agent_rows
from setwell.tables.labels.allergens import LabelAllergen, label_allergens

_CONTAINS = "contains"
Tag = tuple[str, str, str]


def material_tags(material: Material) -> tuple[Tag, ...]:
    """Return allergen, kind and certainty of a material; wheat and its gluten go together."""
    tags = [(*_known(tag.allergen, tag.kind), tag.certainty) for tag in material.allergens]
    for allergen, kind, certainty in tuple(tags):
        if allergen == "gluten" and kind in {"wheat", ""}:
            sure = certainty if kind else "check"
            tags.append(("wheat", "", sure))
    return tuple(dict.fromkeys(tags))


def _known(allergen: str, kind: str) -> tuple[str, str]:
    """Return an allergen as the tables call it; the kitchen may have typed “Tree nuts”."""
    return (allergen, kind) if kind else _typed_names().get(_typed(allergen), (allergen, kind))


def _typed(word: str) -> str:
    bare = " ".join(word.replace("_", " ").casefold().split())
    return bare.removesuffix("s")


@cache
def _typed_names() -> Mapping[str, tuple[str, str]]:
    """Return allergen and kind by every word they go by, kinds of nuts and grains too."""
    found: dict[str, tuple[str, str]] = {}
    for row in label_allergens().values():
        whole = (row.allergen, row.kind)
        for word in (row.kind or row.allergen, row.name):
            found.setdefault(_typed(word), whole)
    # The bare word means the allergen itself before it means a kind of another one.
    for row in label_allergens().values():
        if not row.kind:
            found[_typed(row.allergen)] = (row.allergen, "")
    return MappingProxyType(found)


def label_allergen(market: Market, allergen: str, kind: str) -> LabelAllergen | None:
    """Return how a market names an allergen; None where no table knows it."""
    known = label_allergens()
    named = known.get((market.value, allergen, kind))
    return named or known.get((market.value, allergen, ""))


def listed_in(material: Material, market: Market) -> tuple[LabelAllergen, ...]:
    """Return what a material surely brings and this market lists; sulfites are added up apart."""
    found = {
        named.name: named
        for allergen, kind, certainty in material_tags(material)
        if certainty == _CONTAINS and allergen != "sulfite"
        if (named := label_allergen(market, allergen, kind)) is not None and named.is_listed
    }
    return tuple(found.values())


def declared_allergens(
    plan: Plan, market: Market, choices: LabelChoices
) -> tuple[DeclaredAllergen, ...]:
    """Return the listed allergens of a batch; a doubt the kitchen cleared is left out."""
    where = material_lines(plan)
    rows: dict[str, tuple[LabelAllergen, list[tuple[Material, str]]]] = {}
    unnamed: dict[str, list[tuple[Material, str]]] = {}
    for material in plan.materials:
        for allergen, kind, certainty in material_tags(material):
            if allergen == "sulfite" or _is_cleared(material, allergen, certainty, choices):
                continue
            named = label_allergen(market, allergen, kind)
            if named is None:
                unnamed.setdefault(allergen, []).append((material, certainty))
            elif named.is_listed:
                rows.setdefault(named.name, (named, []))[1].append((material, certainty))
    told = [_declared(*row, where, choices) for row in rows.values()]
    told += [_unnamed(name, held, where) for name, held in unnamed.items()]
    in_order = sorted(told, key=lambda one: (one.certainty != _CONTAINS, one.name))
    return _without_doubles(in_order, market)


def _without_doubles(told: list[DeclaredAllergen], market: Market) -> tuple[DeclaredAllergen, ...]:
    """Leave out a doubtful whole, such as gluten, where the same foods surely hold a part of it.

    A doubt about another part stays, as of wheat in beer with barley, unless the whole is in doubt.
    """
    sure, whole = _held(told, market, is_sure=True), _held(told, market, is_sure=False)
    return tuple(
        one
        for one in told
        if one.certainty == _CONTAINS
        or not (sure if _is_whole(one, market) else whole)
        .get(_family(one), set())
        .issuperset(one.materials)
    )


def _held(told: list[DeclaredAllergen], market: Market, *, is_sure: bool) -> dict[str, set[str]]:
    """Return the foods that surely hold some of an allergen, or those where all of it is open."""
    found: dict[str, set[str]] = {}
    for one in told:
        if (one.certainty == _CONTAINS) if is_sure else _is_whole(one, market):
            found.setdefault(_family(one), set()).update(one.materials)
    return found


def _family(one: DeclaredAllergen) -> str:
    return "gluten" if one.key == "wheat" else one.key


def _is_whole(one: DeclaredAllergen, market: Market) -> bool:
    """Tell a whole allergen from one of its grains or nuts."""
    row = label_allergens().get((market.value, _family(one), ""))
    return row is not None and row.name == one.name


def with_sulfites(
    declared: tuple[DeclaredAllergen, ...], sulfites: ThresholdSum
) -> tuple[DeclaredAllergen, ...]:
    """Return the allergens of the EU with sulfites, which count only above their limit."""
    if not sulfites.is_declared:
        return declared
    named = label_allergens()[(Market.EU.value, "sulfite", "")]
    told = DeclaredAllergen(
        key="sulfite",
        name=named.name,
        certainty=_CONTAINS if sulfites.reaches is Verdict.YES else "check",
        lines=sulfites.lines,
        materials=sulfites.sources,
        evidence=(named.citation,),
    )
    return (*declared, told)


def _is_cleared(material: Material, allergen: str, certainty: str, choices: LabelChoices) -> bool:
    return certainty != _CONTAINS and question_key(material, allergen) in choices.cleared


def question_key(material: Material, allergen: str) -> str:
    """Return the key of the question whether a material holds an allergen."""
    return f"allergen:{material.key}:{'gluten' if allergen == 'wheat' else allergen}"


def _declared(
    named: LabelAllergen,
    held: list[tuple[Material, str]],
    where: dict[str, tuple[int, ...]],
    choices: LabelChoices,
) -> DeclaredAllergen:
    sure = [material for material, certainty in held if certainty == _CONTAINS]
    species = " ".join(choices.species.get(named.allergen, "").split())
    name = named.name
    if species:
        name = species if named.allergen == "tree_nut" else f"{named.name} ({species})"
    materials = sure or [material for material, _ in held]
    return DeclaredAllergen(
        key=named.allergen,
        name=name,
        certainty=_CONTAINS if sure else "check",
        lines=tuple(sorted({number for one in materials for number in where[one.key]})),
        materials=tuple(dict.fromkeys(one.name for one in materials)),
        species_missing=bool(sure) and named.needs_species and not species,
        evidence=(named.citation,),
    )


def _unnamed(
    name: str, held: list[tuple[Material, str]], where: dict[str, tuple[int, ...]]
) -> DeclaredAllergen:
    """Tell an allergen that only the kitchen knows, by the word it was entered with."""
    return DeclaredAllergen(
        key=name,
        name=name.replace("_", " "),
        certainty=_CONTAINS if any(sure == _CONTAINS for _, sure in held) else "check",
        lines=tuple(sorted({number for one, _ in held for number in where[one.key]})),
        materials=tuple(dict.fromkeys(one.name for one, _ in held)),
    )


def allergen_questions(plan: Plan, market: Market, choices: LabelChoices) -> tuple[Question, ...]:
    """Return what the suppliers' labels have to settle before the list can be final."""
    where = material_lines(plan)
    asked: dict[str, Question] = {}
    for material in plan.materials:
        for question in _questions(material, market, where[material.key]):
            if question.key not in choices.cleared:
                asked.setdefault(question.key, question)
    return tuple(asked.values())


def _questions(material: Material, market: Market, lines: tuple[int, ...]) -> Iterator[Question]:
    if material.group == "own" and not material.allergens:
        yield Question(
            f"allergens:{material.key}",
            f"No allergen is entered for {material.name}: confirm that it has none.",
            lines,
        )
    sure = {named.name for named in listed_in(material, market)}
    for allergen, kind, certainty in material_tags(material):
        named = label_allergen(market, allergen, kind)
        if certainty == _CONTAINS or named is None or not named.is_listed or named.name in sure:
            continue
        if allergen != "sulfite":
            yield Question(
                question_key(material, allergen),
                f"{_title(plain_name(material, market))} may hold {named.name}: read the "
                f"supplier's label.{_agent_note(material)}",
                lines,
                (named.citation,),
            )


def _title(words: str) -> str:
    return words[:1].upper() + words[1:]


def _agent_note(material: Material) -> str:
    if material.agent is None:
        return ""
    row = agent_rows()[material.agent.key]
    if row.allergen == "fish_check":
        return " Or name the animal on the line, as in “pork gelatin”, where you know it."
    return f" {_title(row.diet_note)}." if row.diet_note else ""


def contains_line(declared: tuple[DeclaredAllergen, ...]) -> str:
    """Return the line after a list for the United States; a missing species leaves a gap."""
    sure = [one for one in declared if one.certainty == _CONTAINS]
    if not sure:
        return ""
    names = [f"{one.name} [name the kind]" if one.species_missing else one.name for one in sure]
    return f"Contains: {', '.join(names)}."
