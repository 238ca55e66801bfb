"""The page that heats and cools a formula, and says when to start."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from setwell.services import formulas
from setwell.services.bench_sheets import sheet_batches
from setwell.services.process import plan_save
from setwell.web.process.asking import Asked, asked
from setwell.web.process.forms import COLD, LAYER, PIECE, POT, TIME, WATCH
from setwell.web.process.overview import overview


@require_safe
def process_page(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the process; the address holds all of it, so that it can be shared."""
    found = asked(formula_id, request.GET.dict())
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context = _context(formula_id, found) | {"is_part": is_part}
    return render(request, "process/_answer.html" if is_part else "process/view.html", context)


@require_POST
def plan_use(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Save the plan with the version; it counts from now on."""
    found = asked(formula_id, request.POST.dict())
    # What cannot be computed is not saved either.
    if found.form.errors or found.answer is None or found.answer.number is None:
        context = _context(formula_id, found) | {"is_part": False}
        return render(request, "process/view.html", context)
    number = found.answer.number
    plan_save(formula_id=formula_id, number=number, document=found.form.plan)
    messages.success(request, f"This plan now counts for version {number}.")
    address = reverse("process_view", args=[formula_id])
    kept = _kept(request.POST)
    return redirect(f"{address}?{kept}" if kept else address)


def _kept(posted: QueryDict) -> str:
    """Return the part of the address that is not in the plan: the version and the clock."""
    kept = QueryDict(mutable=True)
    for name in ("version", *TIME, *WATCH, *LAYER, *PIECE):
        if posted.get(name):
            kept[name] = str(posted[name])
    return kept.urlencode()


def _context(formula_id: int, found: Asked) -> dict[str, Any]:
    form = found.form
    return {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "answer": found.answer,
        "overview": overview(found.answer) if found.answer else (),
        "batches": sheet_batches(found.answer) if found.answer else None,
        "number": found.number,
        "pot_fields": [form[name] for name in POT],
        "cold_fields": [form[name] for name in COLD],
        "time_fields": [form[name] for name in TIME],
        "watch_fields": [form[name] for name in WATCH],
        "layer_fields": [form[name] for name in LAYER],
        "piece_fields": [form[name] for name in PIECE],
        "carried": _carried(found),
    }


def _carried(found: Asked) -> list[tuple[str, str]]:
    """Return the fields as a form of their own would post them."""
    given = [(name, str(value)) for name, value in found.form.data.items() if value]
    return [*given, ("version", str(found.number))] if found.number else given
