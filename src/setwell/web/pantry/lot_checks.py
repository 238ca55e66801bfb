"""The page of a lot, how strong it is, and the guided tests of its powder."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from setwell.documents.measurement_words import check_told
from setwell.domain.pantry import Lot
from setwell.domain.texture_reading import LotCheck, LotTest
from setwell.errors import InputError, UnknownNameError
from setwell.services import lot_checks, pantry
from setwell.services.lot_strength import lot_report
from setwell.services.results import LotCheckGuide
from setwell.web.calibration.telling import disputes_tell
from setwell.web.pantry.lot_check_form import LotCheckForm

_ID = "check_%s"


@require_safe
def lot_view(request: HttpRequest, row_id: int) -> HttpResponse:
    """Show how strong a lot is, on what that rests, and the tests that fit its powder."""
    lot = pantry.lot_get(id=row_id).document
    report = lot_report(agent=lot.agent, lot_code=lot.lot_code)
    uses = {use.id: use for use in report.readings if use.is_lot_check}
    context = {
        "row_id": row_id,
        "lot": lot,
        "report": report,
        "checks": [(row, uses.get(row.id)) for row in report.checks],
        "elsewhere": [use for use in report.readings if not use.is_lot_check],
        "guides": _guides(lot),
    }
    return render(request, "pantry/lot.html", context)


@require_http_methods(["GET", "POST"])
def lot_test(request: HttpRequest, row_id: int, test: str) -> HttpResponse:
    """Guide through one test of a lot, and record what came of it."""
    lot = pantry.lot_get(id=row_id).document
    kind = _test(lot, test)
    guide = lot_checks.lot_check_guide(agent=lot.agent, kind=kind)
    if request.method == "POST":
        form = LotCheckForm(request.POST, lot=lot, guide=guide, auto_id=_ID)
        ids = _recorded(form) if form.is_valid() else []
        if ids:
            _tell(request, lot, form, ids)
            return redirect("lot_view", row_id=row_id)
    else:
        form = LotCheckForm(lot=lot, guide=guide, auto_id=_ID)
    context = {"row_id": row_id, "lot": lot, "guide": guide, "form": form}
    return render(request, "pantry/lot_test.html", context)


def _guides(lot: Lot) -> tuple[LotCheckGuide, ...]:
    tests = lot_checks.lot_check_tests(agent=lot.agent)
    return tuple(lot_checks.lot_check_guide(agent=lot.agent, kind=one) for one in tests)


def _test(lot: Lot, test: str) -> LotTest:
    found = next((one for one in lot_checks.lot_check_tests(agent=lot.agent) if one == test), None)
    if found is None:
        raise Http404
    return found


def _recorded(form: LotCheckForm) -> list[int]:
    """Write the checks down and return their ids, or leave the reason in the form."""
    try:
        return [
            lot_checks.lot_check_record(document=document)
            for document in form.documents
            if isinstance(document, LotCheck)
        ]
    except UnknownNameError as error:
        form.refuse("", f"{error.message} {error.hint}".strip())
    except InputError as error:
        form.refuse(error.field, f"{error.message} {error.hint}".strip())
    return []


def _tell(request: HttpRequest, lot: Lot, form: LotCheckForm, ids: list[int]) -> None:
    """Say what was recorded, what it means, and what it contradicts."""
    told = "; ".join(check_told(one) for one in form.documents if isinstance(one, LotCheck))
    messages.success(request, f"Recorded: {told}.")
    report = lot_report(agent=lot.agent, lot_code=lot.lot_code)
    disputes_tell(
        request,
        readings=report.readings,
        disputes=report.disputes,
        ids=ids,
        is_lot_check=True,
    )
