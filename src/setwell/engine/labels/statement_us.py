"""The ingredient statement for the United States (21 CFR 101.4)."""

from setwell.domain.brief import Market
from setwell.engine.labels.allergen_statement import contains_line, declared_allergens
from setwell.engine.labels.statement_items import items_of
from setwell.engine.labels.statement_parts import parts_of
from setwell.engine.labels.statement_results import LabelChoices, ListedIngredient, Statement
from setwell.engine.labels.statement_runs import us_runs
from setwell.engine.labels.statement_whole import statement_made, sums_of
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.tables.labels.food_categories import OTHER
from setwell.tables.labels.thresholds import label_thresholds

_CHOICES = LabelChoices()


def us_statement(
    bench: Bench, *, category: str = OTHER, choices: LabelChoices = _CHOICES
) -> Statement:
    """Return the statement of the first candidate; a draft, whatever it says.

    Names go by falling weight as added. Percentages, also for the phrase of small amounts, are of
    the finished weight, which is the larger share where water boils off. Raises InputError where
    the phrase is for a share that the rule does not know.
    """
    sums = sums_of(bench, Market.US, choices)
    items = items_of(parts_of(bench), sums.rules)
    main, minor, phrase = minor_split(items, choices.minor_pct)
    allergens = declared_allergens(bench.plan, Market.US, choices)
    return statement_made(
        bench,
        sums,
        category=category,
        items=items,
        allergens=allergens,
        ingredients=main,
        minor=minor,
        minor_phrase=phrase if minor else "",
        runs=us_runs(main, minor, phrase),
        contains=contains_line(allergens),
        added_water=None,
        quid=(),
        evidence=((label_thresholds()[("minor_1", "us")].citation,),) if minor else (),
    )


def may_follow(percent: float, stated_pct: float) -> bool:
    """Return whether a share may stand behind “Contains {stated} % or less of”."""
    return percent <= stated_pct


def minor_split(
    items: tuple[ListedIngredient, ...], stated_pct: float | None
) -> tuple[tuple[ListedIngredient, ...], tuple[ListedIngredient, ...], str]:
    """Return what comes first, what may follow the phrase, and the phrase."""
    if stated_pct is None:
        return items, (), ""
    known = [row for (key, _), row in label_thresholds().items() if key.startswith("minor_")]
    if stated_pct not in {row.value for row in known}:
        offered = ", ".join(f"{value:g}" for value in sorted(row.value for row in known))
        raise InputError(
            f"“Contains {stated_pct:g}% or less of” is no phrase of the rule.",
            field="minor_pct",
            hint=f"Choose one of {offered}, or none.",
        )
    minor = tuple(item for item in items if may_follow(item.percent, stated_pct))
    main = tuple(item for item in items if not may_follow(item.percent, stated_pct))
    return main, minor, f"Contains {stated_pct:g}% or less of"
