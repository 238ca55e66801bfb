"""The page of one log: what it proves, its chart, its files, and whether it counts."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_http_methods, require_safe

from setwell.documents.course_chart import course_chart_svg
from setwell.documents.probe_chart import probe_chart, probe_table
from setwell.errors import InputError, NotFoundError
from setwell.services import formulas, probe_logs
from setwell.services.probe_fitting import (
    FittedKind,
    probe_equipment_fit,
    probe_equipment_use,
)
from setwell.services.probe_judging import JudgedLog, LogPurpose, probe_log_judged
from setwell.services.probe_logs import StoredProbeLog
from setwell.web.inputs import number_initial
from setwell.web.probe.forms import JudgeForm, ReadingForm


def stored_log(formula_id: int, log_id: int) -> StoredProbeLog:
    """Return a log of this formula."""
    stored = probe_logs.probe_log_get(id=log_id)
    if stored.formula_id != formula_id:
        raise NotFoundError(f"There is no probe log {log_id} of this formula.")
    return stored


@require_safe
def probe_log(request: HttpRequest, formula_id: int, log_id: int) -> HttpResponse:
    """Show what a log proves; a log by hand has the fields for the next reading on top."""
    stored = stored_log(formula_id, log_id)
    document = stored.document
    form = ReadingForm(probes=document.probes) if document.is_by_hand else None
    return log_page(request, stored, form)


def log_page(
    request: HttpRequest, stored: StoredProbeLog, form: ReadingForm | None, status: int = 200
) -> HttpResponse:
    """Return the page of a log."""
    judged, egg = _judged(request, stored)
    context = {
        "summary": formulas.formula_get(formula_id=stored.formula_id),
        "judged": judged,
        "log": judged.stored,
        "found": judged.judgement,
        "form": form,
        "egg": egg,
        "typed": probe_logs.probe_samples(id=stored.id)[::-1] if form is not None else (),
        **_drawing(judged),
    }
    return render(request, "probe/log.html", context, status=status)


def _judged(request: HttpRequest, stored: StoredProbeLog) -> tuple[JudgedLog, JudgeForm]:
    """Judge a log as the address tells: what was done, and when the egg went in."""
    saved = stored.document.egg_in_s
    if not {"egg_in", "purpose"} & set(request.GET):
        initial = {"egg_in": number_initial(None if saved is None else saved / 60.0)}
        return probe_log_judged(id=stored.id), JudgeForm(initial=initial)
    form = JudgeForm(request.GET)
    if not form.is_valid():
        return probe_log_judged(id=stored.id), form
    purpose = LogPurpose(form.cleaned_data["purpose"] or LogPurpose.BATCH)
    minutes = form.cleaned_data["egg_in"]
    try:
        asked = None if minutes is None else 60.0 * minutes
        return probe_log_judged(id=stored.id, egg_in_s=asked, purpose=purpose), form
    except InputError as error:
        form.add_error("egg_in", f"{error.message} {error.hint}".strip())
    return probe_log_judged(id=stored.id), form


def _drawing(judged: JudgedLog) -> dict[str, object]:
    chart = probe_chart(judged.judgement, title=judged.stored.document.title)
    if chart is None:
        return {"drawing": None}
    # Our own drawing: names in it are escaped where it is made.
    drawing: SafeString = mark_safe(course_chart_svg(chart))  # noqa: S308
    return {"drawing": drawing, "drawn_table": probe_table(judged.judgement)}


@require_safe
def probe_file(request: HttpRequest, formula_id: int, log_id: int) -> HttpResponse:  # noqa: ARG001
    """Give the file as it was sent; of a log by hand every reading as CSV."""
    stored = stored_log(formula_id, log_id)
    data = probe_logs.probe_log_raw(id=log_id)
    return _file(data, f"probe-log-{log_id}-as-sent{_ending(stored)}")


@require_safe
def probe_csv(request: HttpRequest, formula_id: int, log_id: int) -> HttpResponse:  # noqa: ARG001
    """Give every sample as read and as it counts, with the reason where it does not."""
    stored_log(formula_id, log_id)
    return _file(probe_logs.probe_log_clean_csv(id=log_id).encode(), f"probe-log-{log_id}.csv")


def _ending(stored: StoredProbeLog) -> str:
    ending = stored.document.file_name.rpartition(".")[2].lower()
    return f".{ending}" if ending in {"csv", "txt", "tsv", "log", "dat"} else ".csv"


def _file(data: bytes, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    # A file that came from outside is never shown as a page.
    response["X-Content-Type-Options"] = "nosniff"
    return response


@require_http_methods(["GET", "POST"])
def probe_rule(request: HttpRequest, formula_id: int, log_id: int) -> HttpResponse:
    """Set a log aside with a reason, or let it count again."""
    stored, problem = stored_log(formula_id, log_id), None
    if request.method == "POST":
        try:
            reason = request.POST.get("reason", "")
            probe_logs.probe_log_rule(id=log_id, counts=not stored.counts, reason=reason)
        except InputError as error:
            problem = error
        else:
            told = "The log is set aside." if stored.counts else "The log counts again."
            messages.success(request, told)
            return redirect("probe_log", formula_id=formula_id, log_id=log_id)
    context = {
        "counts": stored.counts,
        "told": stored.document.title,
        "reason": stored.reason,
        "problem": problem,
        "typed": request.POST.get("reason", ""),
        "back": reverse("probe_log", args=[formula_id, log_id]),
    }
    status = 400 if problem is not None else 200
    return render(request, "probe/rule.html", context, status=status)


@require_http_methods(["GET", "POST"])
def probe_fit(request: HttpRequest, formula_id: int, log_id: int, kind: str) -> HttpResponse:
    """Show what a log tells of the hob or the cold place, and write it on the shelf if wanted."""
    stored, fit, problem = stored_log(formula_id, log_id), None, None
    what = FittedKind.HOB if kind == "hob" else FittedKind.COLD_PLACE
    try:
        if request.method == "POST":
            used = probe_equipment_use(id=log_id, kind=what)
            messages.success(request, f"{used.equipment.name} now has the figure of this log.")
            return redirect("probe_log", formula_id=formula_id, log_id=log_id)
        fit = probe_equipment_fit(id=log_id, kind=what)
    except InputError as error:
        problem = error
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "log": stored,
        "what": what.value,
        "fit": fit,
        "problem": problem,
    }
    return render(request, "probe/fit.html", context)
