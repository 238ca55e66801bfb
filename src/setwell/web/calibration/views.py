"""All measurements of textures and lots of this kitchen, as files, and rulings on them."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from setwell.documents.measurement_words import check_told, reading_told
from setwell.errors import InputError
from setwell.services import lot_checks, pantry, texture_readings
from setwell.services.lot_checks import StoredLotCheck
from setwell.services.texture_readings import StoredTextureReading

Ruled = StoredTextureReading | StoredLotCheck


@require_safe
def readings_export(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """Give all texture readings of versions as CSV."""
    return _csv(texture_readings.texture_reading_export_csv(), "texture-readings.csv")


@require_safe
def checks_export(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """Give all checks of lots as CSV."""
    return _csv(lot_checks.lot_check_export_csv(), "lot-checks.csv")


@require_http_methods(["GET", "POST"])
def reading_rule(request: HttpRequest, reading_id: int) -> HttpResponse:
    """Ask for the reason, then set a reading aside, or let it count again."""
    row = texture_readings.texture_reading_get(id=reading_id)
    back = reverse("texture_readings", args=[row.formula_id, row.number])
    told = f"{reading_told(row.document)}, of {row.title}, version {row.number}"
    if request.method != "POST":
        return _ask(request, told, back, row)
    try:
        if row.counts:
            texture_readings.texture_reading_set_aside(id=reading_id, reason=_reason(request))
        else:
            texture_readings.texture_reading_take_back(id=reading_id)
    except InputError as error:
        return _ask(request, told, back, row, problem=error)
    return _ruled(request, told, back, row)


@require_http_methods(["GET", "POST"])
def check_rule(request: HttpRequest, check_id: int) -> HttpResponse:
    """Ask for the reason, then set a check of a lot aside, or let it count again."""
    row = lot_checks.lot_check_get(id=check_id)
    back = _lot_address(row.document.agent, row.document.lot_code)
    lot = f", lot {row.document.lot_code}" if row.document.lot_code else ""
    told = f"{check_told(row.document)}, of {row.document.agent}{lot}"
    if request.method != "POST":
        return _ask(request, told, back, row)
    try:
        if row.counts:
            lot_checks.lot_check_set_aside(id=check_id, reason=_reason(request))
        else:
            lot_checks.lot_check_take_back(id=check_id)
    except InputError as error:
        return _ask(request, told, back, row, problem=error)
    return _ruled(request, told, back, row)


def _reason(request: HttpRequest) -> str:
    return request.POST.get("reason", "")


def _ask(
    request: HttpRequest, told: str, back: str, row: Ruled, *, problem: InputError | None = None
) -> HttpResponse:
    context = {
        "told": told, "back": back, "counts": row.counts, "reason": row.reason,
        "problem": problem, "typed": _reason(request),
    }  # fmt: skip
    return render(request, "calibration/rule.html", context)


def _ruled(request: HttpRequest, told: str, back: str, row: Ruled) -> HttpResponse:
    did = "Set aside" if row.counts else "It counts again"
    messages.success(request, f"{did}: {told}.")
    return redirect(back)


def _lot_address(agent: str, lot_code: str) -> str:
    """Return the page of a lot on the shelf, or the shelf where it is gone."""
    for row in pantry.lot_list():
        if (row.document.agent, row.document.lot_code) == (agent, lot_code):
            return reverse("lot_view", args=[row.id])
    return reverse("pantry_list", args=["lots"])


def _csv(content: str, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
