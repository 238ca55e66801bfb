"""Additives against the limits and bans of a market and a kind of food."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.brief import Market
from setwell.engine.assessment import Severity
from setwell.engine.labels.additive_words import additive_action, additive_text
from setwell.engine.labels.label_names import e_numbers_of
from setwell.engine.labels.statement_parts import Part, leaves_of, parts_of
from setwell.engine.labels.statement_results import AdditiveFinding
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.rules.bench import Bench
from setwell.engine.verdict import Verdict
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.labels.additive_limits import ANY, AdditiveLimit, additive_limits
from setwell.tables.labels.additives import Additive, additives
from setwell.tables.labels.food_categories import OTHER, FoodCategory, food_categories

_SEVERITY = {
    Verdict.YES: Severity.NOTE, Verdict.CANNOT_TELL: Severity.WARN, Verdict.NO: Severity.STOP
}  # fmt: skip
# Phosphorus pentoxide per phosphorus, from the atomic weights (141.944 / 61.948).
_P2O5_PER_P = 2.2914
_GUMS = frozenset({"thickener", "gelling agent", "stabiliser", "modified starch"})
_RULES = "Regulation (EC) No 1333/2008, Annex II"


@dataclass(frozen=True, slots=True)
class Dose:
    """One additive in the finished food; `by_part` has it by the part that brings it.

    `p2o5_mg_kg` is None where its phosphorus is unknown.
    """

    row: Additive
    by_part: Mapping[int, float]
    p2o5_mg_kg: float | None
    lines: tuple[int, ...]

    @property
    def mg_kg(self) -> float:
        """All of it."""
        return sum(self.by_part.values())


def category_of(key: str) -> FoodCategory:
    """Return a kind of food; an unknown one counts as something else."""
    known = food_categories()
    return known.get(key, known[OTHER])


def additive_findings(bench: Bench, market: Market, category: str) -> tuple[AdditiveFinding, ...]:
    """Return what the rules of a market say to each additive; what stands against it first."""
    food, doses = category_of(category), additive_doses(bench)
    told = [
        finding
        for group, rule in _groups(doses, market, food)
        for finding in (_judged(group, rule, market, food),)
    ]
    ruled = {number for finding in told for number in finding.e_numbers}
    told += [_unruled(dose, market, food) for e, dose in doses.items() if e not in ruled]
    told = _merged(told)
    order = {Severity.STOP: 0, Severity.WARN: 1, Severity.NOTE: 2}
    return tuple(sorted(told, key=lambda one: (order[one.severity], one.e_numbers)))


def _merged(told: list[AdditiveFinding]) -> list[AdditiveFinding]:
    """Say once what holds alike for several numbers of one name."""
    found: dict[str, AdditiveFinding] = {}
    for one in told:
        before = found.get(one.text)
        numbers = (*before.e_numbers, *one.e_numbers) if before else one.e_numbers
        found[one.text] = replace(one, e_numbers=tuple(dict.fromkeys(numbers)))
    return list(found.values())


def additive_doses(bench: Bench) -> dict[str, Dose]:
    """Return what the finished food holds of each additive, by European number.

    A starch that may be one of several, and a mixed salt, count in full under each number.
    """
    finished = float(bench.state.composition.finished_g[0])
    found: dict[str, Dose] = {}
    for place, leaf in enumerate(leaves_of(parts_of(bench)) if finished > 0 else ()):
        for number in e_numbers_of(leaf):
            if number in additives():
                mg_kg = 1e6 * leaf.grams / finished
                one = Dose(additives()[number], {place: mg_kg}, _p2o5(leaf, mg_kg), leaf.lines)
                found[number] = _added(found[number], one) if number in found else one
    return found


def _added(before: Dose, one: Dose) -> Dose:
    both = None
    if before.p2o5_mg_kg is not None and one.p2o5_mg_kg is not None:
        both = before.p2o5_mg_kg + one.p2o5_mg_kg
    lines = tuple(sorted({*before.lines, *one.lines}))
    return Dose(before.row, {**before.by_part, **one.by_part}, both, lines)


def _p2o5(leaf: Part, mg_kg: float) -> float | None:
    if leaf.material is None:
        return None
    phosphorus = float(leaf.material.nutrients[NUTRIENT_INDEX["phosphorus_mg"]])
    return None if np.isnan(phosphorus) else mg_kg * phosphorus / 1e5 * _P2O5_PER_P


def _groups(
    doses: Mapping[str, Dose], market: Market, food: FoodCategory
) -> Iterator[tuple[list[Dose], tuple[AdditiveLimit, ...]]]:
    """Yield the additives that count together with their rules, every rule once."""
    rules = [rule for rule in additive_limits() if rule.market == market.value]
    if market is Market.US and food.is_for_infants:
        return
    shared: dict[str, tuple[list[Dose], list[AdditiveLimit]]] = {}
    for number, dose in doses.items():
        for rule in _rules_for(rules, number, food):
            key = rule.id if rule.counted != "proportional" else "proportional"
            group = shared.setdefault(f"{key} {number if rule.counted == 'each' else ''}", ([], []))
            group[0].append(dose)
            group[1].append(rule)
    yield from ((group, tuple(rules)) for group, rules in shared.values())


def _rules_for(
    rules: Iterable[AdditiveLimit], number: str, food: FoodCategory
) -> list[AdditiveLimit]:
    """Return the rules for an additive in a food: its own first, else those for every food.

    In the EU a rule for every food lets nothing into one that takes only the additives on its own
    list, and is no permission where group I is not.
    """
    here = [rule for rule in rules if number in rule.e_numbers and food.key in rule.categories]
    barred = [rule for rule in here if rule.is_barred]
    if barred or here:
        return barred or here
    wide = [rule for rule in rules if number in rule.e_numbers and ANY in rule.categories]
    return [_widely(rule, food) for rule in wide if not _is_shut(rule, food)]


def _is_shut(rule: AdditiveLimit, food: FoodCategory) -> bool:
    return rule.market == Market.EU.value and food.is_closed


def _widely(rule: AdditiveLimit, food: FoodCategory) -> AdditiveLimit:
    if rule.market == Market.US.value or food.group_i == "yes":
        return rule
    condition = f"{rule.condition}, and only where this food takes additives of group I"
    return replace(rule, condition=condition, is_conditional=True)


def _judged(
    group: list[Dose], rules: tuple[AdditiveLimit, ...], market: Market, food: FoodCategory
) -> AdditiveFinding:
    rule = rules[0]
    amount, limit = _amount(group, rules)
    allowed = _verdict(rule, amount, limit)
    verdict_rules = ", ".join(dict.fromkeys(f"{one.rule} ({one.edition})" for one in rules))
    return AdditiveFinding(
        market=market,
        category=food.key,
        names=_names(group, market),
        e_numbers=tuple(dose.row.e_number for dose in group),
        allowed=allowed,
        severity=_SEVERITY[allowed],
        dose_mg_kg=_together(group),
        limit_mg_kg=limit,
        text=additive_text(rules, _names(group, market), food.name, amount, limit),
        action=additive_action(rule, allowed, amount),
        rule=verdict_rules,
        lines=tuple(sorted({number for dose in group for number in dose.lines})),
        evidence=tuple(dict.fromkeys(one.citation for one in rules)),
    )


def _amount(
    group: list[Dose], rules: tuple[AdditiveLimit, ...]
) -> tuple[float | None, float | None]:
    """Return what counts against a limit and the limit; shares add up to one in a proportion."""
    rule = rules[0]
    if rule.counted == "proportional":
        shares = (d.mg_kg / (r.limit or 1.0) for d, r in zip(group, rules, strict=True))
        return sum(shares), 1.0
    if rule.counted == "p2o5":
        known = [dose.p2o5_mg_kg for dose in group if dose.p2o5_mg_kg is not None]
        return (sum(known) if len(known) == len(group) else None), rule.limit
    return _together(group), rule.limit


def _together(group: list[Dose]) -> float:
    """Add up a group; a part that may be either of two additives counts once."""
    parts: dict[int, float] = {}
    for dose in group:
        parts.update(dose.by_part)
    return sum(parts.values())


def _verdict(rule: AdditiveLimit, amount: float | None, limit: float | None) -> Verdict:
    if rule.is_barred:
        return Verdict.NO
    if amount is None:
        return Verdict.CANNOT_TELL
    if limit is not None and amount > limit * (1.0 + 1e-9):
        return Verdict.NO
    return Verdict.CANNOT_TELL if rule.is_conditional else Verdict.YES


def _unruled(dose: Dose, market: Market, food: FoodCategory) -> AdditiveFinding:
    """Judge an additive that no rule of the tables names for this food."""
    allowed, text, rule, origin = _default(dose, market, food)
    severity = _SEVERITY[allowed]
    return AdditiveFinding(
        market=market,
        category=food.key,
        names=_names([dose], market),
        e_numbers=(dose.row.e_number,),
        allowed=allowed,
        severity=severity,
        dose_mg_kg=dose.mg_kg,
        limit_mg_kg=None,
        text=f"{_names([dose], market)[0]}, {dose.mg_kg:,.0f} mg/kg: {text}",
        action="" if allowed is Verdict.YES else "Look it up in the current text before selling.",
        rule=rule,
        lines=dose.lines,
        evidence=origin,
    )


def _default(dose: Dose, market: Market, food: FoodCategory) -> tuple[Verdict, str, str, Evidence]:
    row = dose.row
    if market is Market.US:
        section = row.us_section or "no section known here"
        origin = (Citation("cfr_21", f"section {section}, recalled", Grade.UNVERIFIED),)
        if food.is_for_infants:
            return (
                Verdict.CANNOT_TELL, "food for infants has rules of its own, which are not here.",
                "21 CFR 106 and 107", origin,
            )  # fmt: skip
        told = "no limit for this food is in our tables."
        return Verdict.CANNOT_TELL, told, f"21 CFR {section}", origin
    if food.is_closed and row.eu_class in _GUMS:
        told = f"not among the gums listed here for {food.eu_category}; treat it as not allowed."
        return Verdict.NO, told, f"{_RULES}, {food.eu_category}", (food.citation,)
    if row.group_i == "yes" and food.group_i == "yes":
        told = "as much as needed and no more, as an additive of group I."
        return Verdict.YES, told, f"{_RULES}, part C, group I", (row.citation, food.citation)
    told = f"our tables have no permission for {food.eu_category}."
    return Verdict.CANNOT_TELL, told, f"{_RULES}, {food.eu_category}", (row.citation,)


def _names(group: list[Dose], market: Market) -> tuple[str, ...]:
    rows = [dose.row for dose in group]
    names = (row.eu_name if market is Market.EU else row.us_name for row in rows)
    return tuple(dict.fromkeys(names))
