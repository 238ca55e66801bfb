"""The page that says whether a formula works in other kitchens."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_safe

from setwell.domain.formula import Formula
from setwell.errors import InputError
from setwell.services import formulas
from setwell.services.robustness import (
    RobustnessAnswer,
    RobustnessChart,
    main_quantity,
    robustness_view,
)
from setwell.web.formula.sheet import formula_initial
from setwell.web.process.asking import version_number
from setwell.web.robustness.forms import FIRST, LAST, OWN, WINDOW, StrangersForm

# From these shares on a chance is good, or at least worth a warning only.
_GOOD, _FAIR = 0.8, 0.5


@require_safe
def strangers_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show a version in other kitchens; the address holds all that was asked."""
    number = version_number(request.GET.get("version", ""))
    form = StrangersForm(request.GET.dict(), main_quantity(formula_id=formula_id, number=number))
    answer = _answer(form, formula_id, number)
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context: dict[str, Any] = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "number": number,
        "answer": answer,
        "is_part": is_part,
        "has_own": form.has_own,
        "first_fields": [form[name] for name in FIRST],
        "window_fields": [form[name] for name in WINDOW],
        "own_fields": [form[name] for name in OWN],
        "last_fields": [form[name] for name in LAST],
    }
    if answer is not None:
        context |= _shown(answer)
    template = "robustness/_answer.html" if is_part else "robustness/view.html"
    return render(request, template, context)


def _answer(form: StrangersForm, formula_id: int, number: int | None) -> RobustnessAnswer | None:
    """Compute what the form asks; what cannot be computed becomes a message at its field."""
    if not form.is_valid():
        return None
    try:
        return robustness_view(formula_id=formula_id, number=number, ask=form.ask)
    except InputError as error:
        form.refuse(error)
    return None


def _shown(answer: RobustnessAnswer) -> dict[str, Any]:
    chance = answer.result.chance.value
    return {
        "charts": {one.key: (one, _drawing(one)) for one in answer.charts},
        "mood": "good" if chance >= _GOOD else "warn" if chance >= _FAIR else "stop",
        "tens": _tens(chance),
        "changes": [
            (one, _carried(answer.changed.get(one.key), one.title, answer.number))
            for one in answer.result.changes
        ],
    }


def _tens(chance: float) -> list[str]:
    """Return ten marks, each a tenth of the kitchens: full, half or empty."""
    halves = round(20.0 * chance)
    return [
        "full" if halves >= 2 * n + 2 else "part" if halves == 2 * n + 1 else "" for n in range(10)
    ]


def _carried(formula: Formula | None, note: str, number: int | None) -> list[tuple[str, str]]:
    """Return what the formula editor takes, as its own form would post it."""
    if formula is None:
        return []
    fields = formula_initial(formula, base_number=number) | {"version_note": note[:200]}
    carried: list[tuple[str, str]] = []
    for name, value in fields.items():
        values = value if isinstance(value, list) else [value]
        carried += [(name, str(one)) for one in values if one not in ("", None)]
    return carried


def _drawing(chart: RobustnessChart) -> SafeString:
    # Our own drawing: names in it are escaped where it is made.
    return mark_safe(chart.svg)  # noqa: S308
