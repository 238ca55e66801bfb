"""The list of a formula's probe logs, and how a new one begins."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from setwell.errors import InputError
from setwell.services import formulas, probe_logs, probe_uploads
from setwell.web.probe.forms import StartForm, UploadForm

_UPLOAD_ID, _START_ID = "upload_%s", "start_%s"


@require_safe
def probe_list(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show all logs of a formula, and the two ways to begin one."""
    return _page(request, formula_id)


@require_POST
def probe_upload(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Keep a file for now, and go on to how it reads."""
    versions = formulas.version_history(formula_id=formula_id)
    form = UploadForm(request.POST, request.FILES, versions=versions, auto_id=_UPLOAD_ID)
    if form.is_valid():
        file = form.cleaned_data["file"]
        try:
            upload_id = probe_uploads.probe_upload_add(
                formula_id=formula_id,
                number=form.cleaned_data["version"],
                file_name=file.name or "",
                data=file.read(),
            )
        except InputError as error:
            form.add_error("file", f"{error.message} {error.hint}".strip())
        else:
            return redirect("probe_preview", formula_id=formula_id, upload_id=upload_id)
    return _page(request, formula_id, upload=form, status=400)


@require_POST
def probe_start(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Begin a log that is typed in."""
    versions = formulas.version_history(formula_id=formula_id)
    form = StartForm(request.POST, versions=versions, auto_id=_START_ID)
    if form.is_valid():
        values = form.cleaned_data
        error_c = values["probe_error_c"]
        try:
            log_id = probe_logs.probe_log_start(
                formula_id=formula_id,
                number=values["version"],
                title=values["title"],
                probes=form.probes,
                **({} if error_c is None else {"probe_error_c": error_c}),
            )
        except InputError as error:
            form.add_error(error.field if error.field in form.fields else None, error.message)
        else:
            return redirect("probe_log", formula_id=formula_id, log_id=log_id)
    return _page(request, formula_id, start=form, status=400)


def _page(
    request: HttpRequest,
    formula_id: int,
    *,
    upload: UploadForm | None = None,
    start: StartForm | None = None,
    status: int = 200,
) -> HttpResponse:
    versions = formulas.version_history(formula_id=formula_id)
    chosen = {"version": request.GET.get("version", "")} if "version" in request.GET else {}
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "logs": probe_logs.probe_log_list(formula_id=formula_id),
        "upload": upload or UploadForm(versions=versions, initial=chosen, auto_id=_UPLOAD_ID),
        "start": start or StartForm(versions=versions, initial=chosen, auto_id=_START_ID),
    }
    return render(request, "probe/list.html", context, status=status)
