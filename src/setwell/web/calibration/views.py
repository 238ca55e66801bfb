"""All measurements of textures and lots of this kitchen, as files, and rulings on them."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from setwell.documents.measurement_words import check_told, reading_told
from setwell.errors import InputError
from setwell.services import lot_checks, pantry, texture_readings


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
    if request.method == "POST" and not row.counts:
        texture_readings.texture_reading_take_back(id=reading_id)
        return _ruled(request, f"It counts again: {told}.", back)
    if request.method == "POST":
        reason = request.POST.get("reason", "")
        try:
            texture_readings.texture_reading_set_aside(id=reading_id, reason=reason)
        except InputError as error:
            return _ask(request, told, back, row.counts, row.reason, problem=error, typed=reason)
        return _ruled(request, f"Set aside: {told}.", back)
    return _ask(request, told, back, row.counts, row.reason)


@require_http_methods(["GET", "POST"])
def check_rule(request: HttpRequest, check_id: int) -> HttpResponse:
    """Ask for the reason, then set a check of a lot aside, or let it count again."""
    row = lot_checks.lot_check_get(id=check_id)
    back = _lot_address(row.document.agent, row.document.lot_code)
    lot = f", lot {row.document.lot_code}" if row.document.lot_code else ""
    told = f"{check_told(row.document)}, of {row.document.agent}{lot}"
    if request.method == "POST" and not row.counts:
        lot_checks.lot_check_take_back(id=check_id)
        return _ruled(request, f"It counts again: {told}.", back)
    if request.method == "POST":
        reason = request.POST.get("reason", "")
        try:
            lot_checks.lot_check_set_aside(id=check_id, reason=reason)
        except InputError as error:
            return _ask(request, told, back, row.counts, row.reason, problem=error, typed=reason)
        return _ruled(request, f"Set aside: {told}.", back)
    return _ask(request, told, back, row.counts, row.reason)


def _ask(
    request: HttpRequest,
    told: str,
    back: str,
    counts: bool,  # noqa: FBT001
    reason: str,
    *,
    problem: InputError | None = None,
    typed: str = "",
) -> HttpResponse:
    context = {
        "told": told, "back": back, "counts": counts, "reason": reason,
        "problem": problem, "typed": typed,
    }  # fmt: skip
    return render(request, "calibration/rule.html", context)


def _ruled(request: HttpRequest, told: str, back: str) -> HttpResponse:
    messages.success(request, told)
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
