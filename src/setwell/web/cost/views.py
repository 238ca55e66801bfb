"""The page that says what a formula costs, and which line drives it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas
from setwell.services.costs import CostAnswer, cost_view
from setwell.web.cost.forms import CostForm
from setwell.web.process.asking import version_number


@require_safe
def cost_page(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the cost of a version; the address holds all that was asked."""
    number = version_number(request.GET.get("version", ""))
    form = CostForm(request.GET)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "number": number,
        "answer": _answer(form, formula_id, number),
    }
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    return render(request, "cost/_answer.html" if is_part else "cost/view.html", context)


def _answer(form: CostForm, formula_id: int, number: int | None) -> CostAnswer | None:
    if not form.is_valid():
        return None
    try:
        return cost_view(formula_id=formula_id, number=number, ask=form.ask)
    except InputError as error:
        form.refuse(error)
        return None
