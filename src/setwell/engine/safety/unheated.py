"""Food whose heating nobody computed or measured: what needs heat must not pass for want of it."""

from setwell.domain.step_surroundings import is_heated_around
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.eggs import egg_is_cooked
from setwell.engine.safety.food_kind import food_kind
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.tables.rules import FoodCodeRule, food_code_rules

_PROVE = "Plan the pot, or put a probe in the coldest spot and judge its log."
_PLACE = "whole batch"
_AROUND = "It is heated in an oven, a steamer, a bath or a microwave: how hot its middle gets is "


def unheated_checks(bench: Bench) -> tuple[SafetyCheck, ...]:
    """Return what stays open where no course of a heating is known: egg, raw milk, unread lines."""
    kind, rule = food_kind(bench), food_code_rules()["eggs_held_70"]
    told: list[tuple[str, str, str]] = []
    if not kind.is_complete:
        text = "Some ingredient lines could not be read, so a rule for egg or milk may be missing."
        told.append(("unread", "Lines that were not read", text))
    if kind.raw_egg:
        told.append(("egg", "Egg cooked", _egg(bench)))
    if kind.has_raw_milk:
        text = "The milk is written as raw, and no heating of it is known."
        told.append(("raw_milk", "Raw milk pasteurized", text))
    return tuple(_check(rule, *one) for one in told)


def _egg(bench: Bench) -> str:
    if egg_is_cooked(bench).all():
        return "The steps cook it; nothing here computes or measures that."
    if any(map(is_heated_around, bench.steps)):
        return f"{_AROUND}not computed."
    return "No heating is known that cooks the egg in it."


def unknown_food_check() -> SafetyCheck:
    """Return the remark that without a formula nobody knows what heat the food needed."""
    rule = food_code_rules()["eggs_held_70"]
    return SafetyCheck(
        "unknown_food", "heating", "Heating", Ruling.CANNOT_TELL,
        "What was in the pot is not known, so its heating is not judged: only the cooling is.",
        "Give the formula of the batch.", None, rule.section, f"Food Code {rule.edition}", _PLACE,
        (rule.citation,), Basis.INFORMATION,
    )  # fmt: skip


def _check(rule: FoodCodeRule, key: str, title: str, text: str) -> SafetyCheck:
    action = "Correct those lines on the formula." if key == "unread" else _PROVE
    return SafetyCheck(
        key, "heating", title, Ruling.CANNOT_TELL, text, action, None, rule.section,
        f"Food Code {rule.edition}", _PLACE, (rule.citation,), is_computed=True,
    )  # fmt: skip
