"""Readings typed in at the bench: now, or at a minute after the start."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from setwell.errors import InputError
from setwell.services import probe_logs
from setwell.units import duration_print, temperature_print
from setwell.web.probe.forms import ReadingForm
from setwell.web.probe.log import log_page, stored_log


@require_POST
def probe_reading(request: HttpRequest, formula_id: int, log_id: int) -> HttpResponse:
    """Write down what the probes show."""
    stored = stored_log(formula_id, log_id)
    form = ReadingForm(request.POST, probes=stored.document.probes)
    if form.is_valid():
        minutes = form.cleaned_data["minutes"]
        try:
            at = probe_logs.probe_sample_add(
                id=log_id,
                celsius=form.celsius,
                seconds=None if minutes is None else 60.0 * minutes,
            )
        except InputError as error:
            known = error.field if error.field in form.fields else None
            form.add_error(known, f"{error.message} {error.hint}".strip())
        else:
            told = ", ".join(temperature_print(round(one, 1)) for one in form.celsius.values())
            messages.success(request, f"Written down: {told} at {duration_print(at / 60)}.")
            return redirect("probe_log", formula_id=formula_id, log_id=log_id)
    return log_page(request, stored, form, status=400)


@require_POST
def probe_strike(
    request: HttpRequest, formula_id: int, log_id: int, sample_id: int
) -> HttpResponse:
    """Strike one reading that was typed wrong; it stays in the records."""
    stored_log(formula_id, log_id)
    probe_logs.probe_sample_strike(id=log_id, sample=sample_id)
    messages.success(request, "Struck. It stays in the file of all readings.")
    return redirect("probe_log", formula_id=formula_id, log_id=log_id)
