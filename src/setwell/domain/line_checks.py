"""What only the whole line shows: a missing name, two weights, an amount no kitchen has."""

import re
from dataclasses import replace

from setwell.domain.amount_reading import amount_inside, amount_lead, amount_tail
from setwell.domain.amounts import (
    Amount,
    AmountKind,
    amount_is_packed,
    amount_measured,
    amount_print,
    amount_problem,
)
from setwell.domain.line import Line
from setwell.domain.line_parts import LineParts
from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import UNITS, number_print, text_clean, text_quote

# Two weights on one line may differ this much by rounding ounces; more is a mistake.
_WEIGHT_SPREAD = 0.1
# Foods sold by their percentage.
_GRADED = re.compile(
    r"(?:.* )?(?:milk|cream|yogh?urt|kefir|quark|vinegar|vodka|rum|brandy|chocolate)$", re.I
)
# Words with which a note tells how part of the ingredient is used.
_USE = re.compile(
    r"\b(?:for|of|to|in|into|with|reserved?|extra|more|per|each|off|from|at|as|plus|set|kept|held|"
    r"on|about|by|from|over|under|used|back|aside|left|it|them|this|which)\b",
    re.IGNORECASE,
)
_PERCENT_FIRST = re.compile(r"\W*[0-9.,/ ]+ ?(?:%|per|pct)", re.IGNORECASE)


def line_check(line: Line, parts: LineParts) -> Line:
    """Attach the problem of the whole line, and drop an amount that cannot be used."""
    problem = line.problem or _name_problem(line) or _amount_problem(line, parts)
    if problem is None:
        return line
    amount = line.amount if problem.code == ProblemCode.NO_AMOUNT else None
    return replace(line, problem=problem, amount=amount)


def name_is_graded(name: str) -> bool:
    """Return whether a percent before this name may belong to the product, as in "2% milk"."""
    return _GRADED.match(name) is not None


def _name_problem(line: Line) -> LineProblem | None:
    if any(char.isalpha() for char in line.name):
        return None
    return LineProblem(
        ProblemCode.NO_NAME,
        "This line names no ingredient.",
        'Write the amount and the name, like "350 g whole milk".',
    )


def _amount_problem(line: Line, parts: LineParts) -> LineProblem | None:
    amount = line.amount
    if amount is None or amount.kind == AmountKind.UNSTATED:
        return None
    stated = line.stated_grams
    problem = amount_problem(amount)
    if problem is None and stated is not None:
        problem = amount_problem(amount_measured(stated, UNITS["g"]))
    return (
        problem
        or _inside_problem(line)
        or _second_problem(parts)
        or _weights_problem(amount, parts.stated.grams if parts.stated else None)
        or _pack_problem(line, amount, parts)
        or _grade_problem(line, amount)
    )


def _inside_problem(line: Line) -> LineProblem | None:
    inside = amount_inside(line.name)
    if not inside:
        return None
    return LineProblem(
        ProblemCode.TWO_AMOUNTS,
        f"A second amount, {text_quote(inside)}, stands inside the name.",
        "Put each ingredient on a line of its own, and a pack size in parentheses.",
    )


def _second_problem(parts: LineParts) -> LineProblem | None:
    """Refuse "kappa 3 g, iota 2 g": the second ingredient would be lost in the note."""
    if not parts.segments:
        return None
    first = amount_lead(parts.segments[0])
    for segment in parts.segments[1:]:
        other = amount_lead(segment) if first else amount_tail(segment)
        name = other.rest.strip() if other else ""
        is_weight = other is not None and other.amount is not None and other.amount.grams
        if is_weight and name and not _USE.search(name):
            return LineProblem(
                ProblemCode.TWO_AMOUNTS,
                f"A second ingredient, {text_quote(segment)}, stands in the note.",
                "Put each ingredient on a line of its own.",
            )
    return None


def _pack_problem(line: Line, amount: Amount, parts: LineParts) -> LineProblem | None:
    """Ask about "2 cans (400 g)": the weight of one can, or of both?"""
    if not amount_is_packed(amount) or parts.each_grams is not None or parts.is_total:
        return None
    if line.stated_grams is None:
        return None
    one = number_print(round(line.stated_grams, 1))
    both = number_print(round(line.stated_grams * amount.value, 1))
    return LineProblem(
        ProblemCode.TWO_READINGS,
        f"{text_quote(f'{amount_print(amount)} ({one} g)')} can be the weight of each or of all.",
        f'Write "({one} g each)" or "({both} g in all)".',
    )


def _weights_problem(amount: Amount, written_grams: float | None) -> LineProblem | None:
    grams = amount.grams
    if written_grams is None or grams is None or amount.kind != AmountKind.MASS:
        return None
    if abs(written_grams - grams) <= _WEIGHT_SPREAD * max(written_grams, grams):
        return None
    return LineProblem(
        ProblemCode.TWO_WEIGHTS,
        f"This line gives two weights: {amount_print(amount)} and "
        f"{number_print(round(written_grams, 1))} g.",
        "Keep the one you weighed.",
    )


def _grade_problem(line: Line, amount: Amount) -> LineProblem | None:
    """Ask about "2% milk": a share of the batch, or milk with that fat?"""
    if amount.kind != AmountKind.PERCENT or line.stated_grams is not None:
        return None
    if not name_is_graded(line.name) or not _PERCENT_FIRST.match(text_clean(line.text)):
        return None
    grade = f"{amount_print(amount)} {line.name}"
    return LineProblem(
        ProblemCode.TWO_READINGS,
        f"{text_quote(grade)} can be a share of the batch or the name of a product.",
        f'Write "350 g {grade}", or "{line.name}, {amount_print(amount)}" for a share.',
    )
