"""The page of a version's texture readings: record one, and see what they move."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from setwell.documents.measurement_words import KIND_TITLES, reading_told
from setwell.domain.texture_reading import TextureKind, TextureReading
from setwell.errors import InputError, UnknownNameError
from setwell.services import formulas
from setwell.services import texture_readings as measured
from setwell.services.formulas import VersionDetail
from setwell.services.texture_calibration import corrections_for
from setwell.web.calibration.telling import disputes_tell
from setwell.web.inputs import number_initial
from setwell.web.version.texture_reading_form import FORMS, GUIDES, LoadForm, TextureForm

_ID = "texture_%s"


@require_http_methods(["GET", "POST"])
def texture_readings(request: HttpRequest, formula_id: int, number: int) -> HttpResponse:
    """Choose a kind of reading, record it, and see all readings with what they move."""
    detail = formulas.version_get(formula_id=formula_id, number=number)
    lots = measured.texture_reading_lots(formula_id=formula_id, number=number)
    kind = request.GET.get("kind", "")
    form = _form(request, kind, lots) if kind in FORMS else None
    if request.method == "POST" and form is not None and form.is_valid():
        recorded = _recorded(form, formula_id, number)
        if recorded:
            _tell(request, detail, form, recorded, has_agents=bool(lots))
            return redirect("texture_readings", formula_id=formula_id, number=number)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "version": detail.summary,
        "formula": detail.formula,
        "form": form,
        "kind": kind if form is not None else "",
        "kinds": [(one.value, KIND_TITLES[one]) for one in GUIDES],
        "guide": GUIDES[TextureKind(kind)] if form is not None else (),
        "has_agents": bool(lots),
    }
    return render(request, "version/texture_readings.html", context)


def _form(request: HttpRequest, kind: str, lots: tuple[measured.AgentLots, ...]) -> TextureForm:
    made = FORMS[kind]
    if request.method == "POST":
        return made(request.POST, lots=lots, auto_id=_ID)
    initial = {"plunger_mm": number_initial(_plunger())} if issubclass(made, LoadForm) else {}
    return made(initial=initial, lots=lots, auto_id=_ID)


def _plunger() -> float:
    """Return the plunger used last: most kitchens have one."""
    loads = [row for row in measured.texture_reading_list() if row.document.kind.is_load]
    if not loads:
        return TextureReading(kind=TextureKind.WORD, word="any").plunger_mm
    return max(loads, key=lambda row: row.recorded_at).document.plunger_mm


def _recorded(form: TextureForm, formula_id: int, number: int) -> list[int]:
    """Write the readings down and return their ids, or leave the reason in the form."""
    try:
        return [
            measured.texture_reading_record(formula_id=formula_id, number=number, document=document)
            for document in form.documents
            if isinstance(document, TextureReading)
        ]
    except UnknownNameError as error:
        nearest = f" On the shelf: {', '.join(error.nearest)}." if error.nearest else ""
        form.refuse(error.field, f"{error.message}{nearest}")
    except InputError as error:
        form.refuse(error.field, f"{error.message} {error.hint}".strip())
    return []


def _tell(
    request: HttpRequest,
    detail: VersionDetail,
    form: TextureForm,
    recorded: list[int],
    *,
    has_agents: bool,
) -> None:
    """Say what was recorded, and what it does not do or contradicts."""
    number = detail.summary.number
    told = "; ".join(reading_told(one) for one in form.documents if isinstance(one, TextureReading))
    messages.success(request, f"Recorded of version {number}: {told}.")
    if not has_agents:
        messages.warning(
            request,
            f"It is kept but moves no number: no texture agent was found in version {number}.",
        )
        return
    found = corrections_for(
        formula=detail.formula, formula_id=detail.summary.formula_id, number=number
    )
    disputes_tell(
        request,
        readings=found.readings,
        disputes=found.disputes,
        ids=recorded,
        is_lot_check=False,
    )
