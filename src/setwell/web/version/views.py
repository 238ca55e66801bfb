"""Pages to read, list and compare saved versions."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.services import assessment as assessments
from setwell.services import formulas
from setwell.web.version.forms import CompareForm


@require_safe
def version_history(request: HttpRequest, formula_id: int) -> HttpResponse:
    """List all versions of a formula."""
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "versions": formulas.version_history(formula_id=formula_id),
    }
    return render(request, "version/history.html", context)


@require_safe
def version_view(request: HttpRequest, formula_id: int, number: int) -> HttpResponse:
    """Show one version as it was saved, computed with today's pantry."""
    detail = formulas.version_get(formula_id=formula_id, number=number)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "version": detail.summary,
        "formula": detail.formula,
        "assessment": assessments.formula_assess(
            formula=detail.formula, formula_id=formula_id, number=number
        ),
    }
    return render(request, "version/view.html", context)


@require_safe
def version_compare(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show two versions side by side: lines and computed values."""
    form = CompareForm(request.GET or None)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "versions": formulas.version_history(formula_id=formula_id),
        "form": form,
    }
    if form.is_valid():
        first, second = form.cleaned_data["first"], form.cleaned_data["second"]
        context |= {"first": first, "second": second}
        context["difference"] = formulas.version_compare(
            formula_id=formula_id, first=first, second=second
        )
    return render(request, "version/compare.html", context)
