"""How a file reads: correct it as often as needed, then save it as a log."""

import re
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from setwell.domain.log_reading import LogReading
from setwell.errors import InputError, NotFoundError
from setwell.services import formulas, probe_uploads
from setwell.services.probe_uploads import ProbePreview
from setwell.web.inputs import number_initial
from setwell.web.probe.reading_form import SettingsForm, initial_of

_NAME = re.compile(r"name_(\d{1,2})")


@require_http_methods(["GET", "POST"])
def probe_preview(request: HttpRequest, formula_id: int, upload_id: int) -> HttpResponse:
    """Show how a file reads; read it again with other settings, or save it."""
    typed = request.POST if request.method == "POST" else request.GET
    bound = SettingsForm(typed, names=_columns(typed)) if "shown_for" in typed else None
    reading = bound.reading if bound is not None and bound.is_valid() else None
    if request.method == "POST" and bound is not None:
        if request.POST.get("do") != "save":
            return _again(request.POST, formula_id, upload_id)
        if reading is not None:
            log_id = _saved(bound, upload_id, reading)
            if log_id:
                messages.success(request, "The log is saved, with the file as it was sent.")
                return redirect("probe_log", formula_id=formula_id, log_id=log_id)
    found = probe_uploads.probe_preview(upload_id=upload_id, reading=reading)
    if found.upload.formula_id != formula_id:
        raise NotFoundError(f"There is no uploaded file {upload_id} of this formula.")
    form = _form(found, bound)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "found": found,
        "table": found.table,
        "form": form,
    }
    return render(request, "probe/preview.html", context, status=400 if form.errors else 200)


def _columns(typed: QueryDict) -> tuple[str, ...]:
    """Return as many empty names as there are columns in what was sent."""
    numbers = [int(found[1]) for name in typed if (found := _NAME.fullmatch(name))]
    return ("",) * min(max(numbers, default=0), 64)


def _again(typed: QueryDict, formula_id: int, upload_id: int) -> HttpResponseRedirect:
    """Go to the same page with the settings in its address."""
    kept = typed.copy()
    for name in ("csrfmiddlewaretoken", "do"):
        kept.pop(name, None)
    address = reverse("probe_preview", args=[formula_id, upload_id])
    return HttpResponseRedirect(f"{address}?{kept.urlencode()}")


def _saved(form: SettingsForm, upload_id: int, reading: LogReading) -> int:
    """Save and return the id of the log, or leave the reason in the form."""
    values = form.cleaned_data
    error_c, egg_in = values["probe_error_c"], values["egg_in"]
    table = probe_uploads.probe_preview(upload_id=upload_id, reading=reading).table
    if table is not None and not form.confirm(table):
        return 0
    try:
        return probe_uploads.probe_log_save(
            upload_id=upload_id,
            reading=reading,
            title=values["title"],
            note=values["note"],
            egg_in_s=None if egg_in is None else 60.0 * egg_in,
            **({} if error_c is None else {"probe_error_c": error_c}),
        )
    except InputError as error:
        form.refuse(error.field, f"{error.message} {error.hint}".strip())
    return 0


def _form(found: ProbePreview, bound: SettingsForm | None) -> SettingsForm:
    """Return the form: as read where that went well, else as typed with what is wrong."""
    if found.table is not None and (bound is None or not bound.errors):
        initial: dict[str, Any] = initial_of(found.table, title=_title(found))
        if bound is not None:
            values = bound.cleaned_data
            typed = {name: values[name] for name in SettingsForm.about}
            for name in ("probe_error_c", "egg_in"):
                typed[name] = number_initial(typed[name])
            initial |= {name: value for name, value in typed.items() if value != ""}
        return SettingsForm(initial=initial, names=found.table.names)
    form = bound if bound is not None else SettingsForm({"shown_for": "", "title": _title(found)})
    form.is_valid()
    if found.problem is not None:
        form.refuse(found.problem.field, f"{found.problem.message} {found.problem.hint}".strip())
    return form


def _title(found: ProbePreview) -> str:
    return found.upload.file_name.rpartition(".")[0] or found.upload.file_name
