"""What is open about a statement: questions, findings, and what keeps it from being final."""

import re
from collections.abc import Iterable, Iterator

from setwell.domain.brief import Market
from setwell.domain.formula import Diet
from setwell.engine.assessment import DietResult, Finding, Severity
from setwell.engine.labels.additive_rules import category_of
from setwell.engine.labels.statement_items import flat
from setwell.engine.labels.statement_results import (
    AdditiveFinding,
    DeclaredAllergen,
    LabelChoices,
    ListedIngredient,
    Question,
)
from setwell.engine.plan import Plan
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.verdict import Verdict
from setwell.provenance import Citation, Grade
from setwell.tables.agents import agent_rows
from setwell.tables.labels.thresholds import label_thresholds
from setwell.units import text_quote

_AS_TYPED = re.compile(r"\b(?:flavou?r|colou?r)(?:ing|s|ed)?\b", re.IGNORECASE)
_MINI_CUPS = "mini_cups"
_MINI_CUP_RULES = (
    Citation("eu_1333_2008", "Annex II, jelly mini-cups", Grade.STANDARD),
    Citation("fda_import_33_15", "the alert", Grade.STANDARD),
)
_SALTS = (Citation("cfr_21", "section 172.626", Grade.STANDARD),)
_NO_VEGAN_LAW = (
    Citation("eu_1169_2011", "article 36(3)(b), never carried out, recalled", Grade.UNVERIFIED),
)


def part_questions(
    items: Iterable[ListedIngredient], choices: LabelChoices
) -> tuple[Question, ...]:
    """Ask for the ingredients of what is bought made of several."""
    asked = {
        f"parts:{item.key}": Question(
            f"parts:{item.key}",
            f"{text_quote(item.name)} is bought made of several ingredients: type its name with "
            "the list of its label in brackets.",
            item.lines,
            item.evidence,
        )
        for item in flat(items)
        if item.lists_parts
    }
    return tuple(one for key, one in asked.items() if key not in choices.cleared)


def unread(plan: Plan) -> tuple[str, ...]:
    """Return the lines that could not be counted; nobody knows what is in them."""
    told = [
        f"Line {reading.number}, {text_quote(reading.line.text.strip())}, is not in the list: "
        f"{reading.problem}"
        for reading in plan.readings
        if reading.problem
    ]
    told += [f"Line {number}: {said}" for number, said in plan.unread_inside()]
    return (*told, *plan.problems)


def blocks_of(
    plan: Plan,
    *,
    items: tuple[ListedIngredient, ...],
    allergens: tuple[DeclaredAllergen, ...],
    additives: tuple[AdditiveFinding, ...],
    questions: tuple[Question, ...],
) -> tuple[str, ...]:
    """Return everything that keeps a statement from being final."""
    told = list(unread(plan))
    if not items:
        told.append("There is no ingredient with a weight.")
    told += [
        f"Name the kind of {one.name} in {', '.join(one.materials)}."
        for one in allergens
        if one.species_missing
    ]
    told += [one.text for one in questions]
    told += [one.text for one in additives if one.allowed is Verdict.NO]
    return tuple(dict.fromkeys(told))


def findings_of(
    bench: Bench,
    market: Market,
    *,
    category: str,
    items: tuple[ListedIngredient, ...],
    choices: LabelChoices,
    diets: tuple[DietResult, ...],
) -> tuple[Finding, ...]:
    """Return what a person should look at."""
    told = [*_wordings(items), *_agents(bench, market, items), *_typed_words(items)]
    if choices.may_contain.strip():
        told.append(_may_contain(choices.may_contain))
    told += _vegan(bench, diets)
    if category_of(category).key == _MINI_CUPS and bench.agents:
        told.append(_mini_cups())
    return tuple(told)


def _wordings(items: tuple[ListedIngredient, ...]) -> Iterator[Finding]:
    for item in flat(items):
        if item.check:
            yield Finding(
                "label_wording", Severity.NOTE, f"Check the wording: {item.name}",
                f"{text_quote(item.name)}: {item.check}.", "Type the name as the law wants it.",
                item.lines, evidence=PRACTICE,
            )  # fmt: skip


def _agents(bench: Bench, market: Market, items: tuple[ListedIngredient, ...]) -> Iterator[Finding]:
    if market is Market.US and any(item.name == "carrageenan" for item in flat(items)):
        yield Finding(
            "label_carrageenan_salt", Severity.NOTE, "Carrageenan or a salt of it",
            "A product sold as a salt of carrageenan is named by its main metal, such as "
            "“potassium carrageenan”.",
            "Read the supplier's label; name the line so if it is one.", (), evidence=_SALTS,
        )  # fmt: skip
    for key in bench.agents:
        row = agent_rows()[key]
        if " or " in row.e_number:
            yield Finding(
                "label_which_additive", Severity.WARN, f"Which one is it: {row.name}",
                f"{row.name} may be {row.e_number}; it is judged as each of them.",
                "Ask the supplier for the number.", bench.lines_of(key), evidence=(row.citation,),
            )  # fmt: skip
    for material in bench.plan.materials:
        if material.agent is not None and material.key.startswith("own:"):
            yield Finding(
                "label_carriers", Severity.NOTE, f"What else is in {material.name}",
                f"{material.name} is told as its agent alone; trade products often hold sugar or "
                "salts that set their strength.",
                "Read its label, and add what it names.", bench.lines_of(material.agent.key),
                evidence=PRACTICE,
            )  # fmt: skip


def _typed_words(items: tuple[ListedIngredient, ...]) -> Iterator[Finding]:
    for item in flat(items):
        if _AS_TYPED.search(item.name):
            yield Finding(
                "label_flavor_color", Severity.NOTE, f"As you typed it: {item.name}",
                "Whether a flavor is natural, and which color it is, comes from the supplier; the "
                "list prints your words.",
                "Read the supplier's label.", item.lines, evidence=PRACTICE,
            )  # fmt: skip


def _may_contain(note: str) -> Finding:
    return Finding(
        "label_may_contain", Severity.NOTE, "“May contain” is your own note",
        f"{text_quote(note.strip())} is printed as you typed it. It stands in for no cleaning and "
        "no separation, and what is in the food belongs in the list.",
        "Keep the reason for it with your records.", evidence=PRACTICE,
    )  # fmt: skip


def _mini_cups() -> Finding:
    """Warn of the shape itself, which chokes with every firm gel."""
    return Finding(
        "label_mini_cups", Severity.STOP, "Bite-size cups can choke",
        "A firm bite pressed from a small cup can block the throat, whatever sets it, and also "
        "where no rule names the agent.",
        "Choose another shape. Local food law decides.", evidence=_MINI_CUP_RULES,
    )  # fmt: skip


def _vegan(bench: Bench, diets: tuple[DietResult, ...]) -> Iterator[Finding]:
    claimed = {Diet.VEGAN.value, Diet.VEGETARIAN.value} & {one.value for one in bench.formula.diets}
    if any(one.diet in claimed for one in diets):
        yield Finding(
            "label_diet_words", Severity.NOTE, "No law says what vegan means",
            "Neither market defines vegan or vegetarian. Ask about mono- and diglycerides, "
            "L-cysteine, shellac, carmine, and sugar cleaned with bone char.",
            "Keep the suppliers' answers.", evidence=_NO_VEGAN_LAW,
        )  # fmt: skip


def alcohol_finding(bench: Bench, market: Market, category: str) -> Finding | None:
    """Return what alcohol means for the label; None where there is none."""
    strength = bench.state.water.alcohol_by_volume
    value, high = float(strength.value[0]), float(strength.high[0])
    if not high > 0:
        return None
    threshold = label_thresholds()[("alcohol", market.value)]
    is_over, evidence = high > threshold.value, (threshold.citation,)
    told = f"About {value:.2g} % alcohol by volume; the limit is {threshold.value:g} %."
    if market is Market.EU:
        return Finding(
            "label_alcohol", Severity.WARN if is_over else Severity.NOTE, "Alcohol on the label",
            f"{told} A drink above it states its strength, and its lists of ingredients and "
            "nutrients may then be left out, but not its allergens. A food that is eaten keeps "
            "both lists.",
            f"As a drink: “alc. {value:.1f} % vol”, after a measurement." if is_over else "",
            evidence=evidence,
        )  # fmt: skip
    sweets = category_of(category).is_confectionery
    return Finding(
        "label_alcohol", Severity.STOP if sweets and is_over else Severity.NOTE,
        "Alcohol in confectionery" if sweets else "Alcohol in the food",
        f"{told} Confectionery above it may not be sold unless state law allows it."
        + ("" if sweets else " Other food with alcohol falls under state law, drinks under federal "
           "alcohol law too."),
        "Ask the state where you sell." if is_over else "",
        evidence=evidence,
    )  # fmt: skip
