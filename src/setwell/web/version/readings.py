"""Record and delete the pH readings of saved versions."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from setwell.domain.reading import VersionReading
from setwell.errors import NotFoundError
from setwell.services import formulas
from setwell.services import readings as measured
from setwell.web.version.reading_form import BENCH, VersionReadingForm

_ID = "reading_%s"


@require_http_methods(["GET", "POST"])
def reading_record(request: HttpRequest, formula_id: int, number: int) -> HttpResponse:
    """Record what the meter showed of one version."""
    version = formulas.version_get(formula_id=formula_id, number=number).summary
    form = VersionReadingForm(request.POST or None, auto_id=_ID)
    if request.method == "POST" and form.is_valid() and isinstance(form.document, VersionReading):
        measured.version_reading_record(
            formula_id=formula_id, number=number, document=form.document
        )
        messages.success(request, f"Recorded: pH {form.document.ph:g} of version {number}.")
        if form.cleaned_data["page"] == BENCH:
            return redirect("formula_edit", formula_id=formula_id)
        return redirect("version_view", formula_id=formula_id, number=number)
    context = {"version": version, "form": form}
    return render(request, "version/reading.html", context)


@require_http_methods(["GET", "POST"])
def reading_delete(request: HttpRequest, formula_id: int, reading_id: int) -> HttpResponse:
    """Ask, then delete one reading."""
    row = measured.version_reading_get(id=reading_id)
    if row.formula_id != formula_id:
        raise NotFoundError(f"There is no reading {reading_id} of formula {formula_id}.")
    version = formulas.version_get(formula_id=formula_id, number=row.number).summary
    if request.method == "GET":
        context = {"version": version, "row": row}
        return render(request, "version/reading_delete.html", context)
    measured.version_reading_delete(id=reading_id)
    messages.success(request, f"Deleted: pH {row.document.ph:g} of version {row.number}.")
    return redirect("version_view", formula_id=formula_id, number=row.number)
