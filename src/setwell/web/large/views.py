"""The page that makes a formula large."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas
from setwell.services.scale_up import ScaleUp, scale_up_view
from setwell.services.shopping_table import shopping_csv
from setwell.web.large.forms import EQUIPMENT, LargeForm
from setwell.web.process.asking import version_number
from setwell.web.version.scaled_on import ScaledOn, scaled_on


@require_safe
def large_page(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Make a version large; the address holds all that was asked."""
    number = version_number(request.GET.get("version", ""))
    form = LargeForm(request.GET) if request.GET.get("target") else LargeForm()
    answer = _answer(form, formula_id, number)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "equipment": [form[name] for name in EQUIPMENT],
        "number": number,
        "query": request.GET.urlencode(),
        "answer": answer,
        "onward": _onward(request, formula_id, number, answer),
    }
    return render(request, "large/view.html", context)


def _onward(
    request: HttpRequest, formula_id: int, number: int | None, answer: ScaleUp | None
) -> ScaledOn | None:
    """Return where one batch can be taken to; what was asked is what all of them make."""
    if answer is None:
        return None
    asked = request.GET.dict()
    if answer.split.count > 1:
        asked = {"readability_g": asked.get("readability_g", "")}
    return scaled_on(formula_id, answer.each.weighed_g, asked, number=number)


@require_safe
def shopping_file(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the shopping list as a table."""
    number = version_number(request.GET.get("version", ""))
    form = LargeForm(request.GET)
    if not form.is_valid():
        said = next(iter(form.errors.values()))[0]
        raise InputError(f"There is no list to buy from: {said}")
    content = shopping_csv(formula_id=formula_id, number=number, ask=form.ask)
    name = slugify(formulas.formula_get(formula_id=formula_id).title) or "formula"
    response = HttpResponse(content, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}-shopping.csv"'
    return response


def _answer(form: LargeForm, formula_id: int, number: int | None) -> ScaleUp | None:
    if not form.is_valid():
        return None
    try:
        return scale_up_view(formula_id=formula_id, number=number, ask=form.ask)
    except InputError as error:
        form.refuse(error)
        return None
