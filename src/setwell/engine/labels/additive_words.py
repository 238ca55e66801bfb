"""What a rule on additives says about a food, in words."""

from setwell.engine.verdict import Verdict
from setwell.tables.labels.additive_limits import AdditiveLimit


def additive_text(
    rules: tuple[AdditiveLimit, ...],
    names: tuple[str, ...],
    food: str,
    amount: float | None,
    limit: float | None,
) -> str:
    """Return what the rules say, with the amount that counts and its condition."""
    rule, who = rules[0], ", ".join(names)
    if rule.kind == "banned":
        return f"{who}: not allowed in this food ({food}): {rule.condition}."
    if rule.kind == "not_listed":
        return f"{who}: not on the list for this food ({food}), so not allowed."
    note = f" ({rule.condition})" if rule.condition else ""
    if rule.counted == "proportional":
        share = 0.0 if amount is None else amount
        each = ", ".join(f"{r.limit:,.0f} mg/kg" for r in rules)
        return f"{who}: {share:.2f} of the whole limit, which is 1 ({each}; {rule.condition})."
    if amount is None:
        return f"{who}: its phosphorus is unknown, at most {limit:,.0f} mg/kg are allowed{note}."
    if limit is None:
        return f"{who}: {amount:,.0f} mg/kg; as much as needed and no more{note}."
    return f"{who}: {amount:,.0f} mg/kg of at most {limit:,.0f} mg/kg{note}."


def additive_action(rule: AdditiveLimit, allowed: Verdict, amount: float | None) -> str:
    """Return what to do about it; nothing where it is allowed."""
    if allowed is Verdict.YES:
        return ""
    if rule.is_barred:
        return "Choose another agent, or another shape or kind of food."
    if allowed is Verdict.NO:
        return "Lower the dose, or choose another agent."
    if amount is None:
        return "Ask the supplier for the phosphorus, and add it up."
    return f"Make sure that the condition holds: {rule.condition}."
