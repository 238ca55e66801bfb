"""The label as a page, as a PDF and as text; what was chosen is kept with the version.

While somebody tries things out, the address holds all of it.
"""

from dataclasses import dataclass, replace
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from setwell.errors import InputError
from setwell.services import formulas, labels
from setwell.web.label.forms import (
    FIRST,
    LIST,
    MORE,
    OWN,
    SERVING,
    LabelForm,
    asked_of,
    carried,
)
from setwell.web.process.asking import version_number

PAPERS: dict[str, labels.LabelPaper] = {"A4": "A4", "Letter": "Letter"}
DEFAULT = "A4"


@require_safe
def label_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the label of the newest version, or of the one asked for."""
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    found = _asked(request.GET, formula_id)
    context = _context(request.GET, formula_id, found) | {"is_part": is_part}
    return render(request, "label/_answer.html" if is_part else "label/view.html", context)


@require_safe
def label_pdf(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the label as a PDF."""
    paper = request.GET.get("paper", DEFAULT)
    if paper not in PAPERS:
        raise InputError(
            f"There is no paper “{paper[:20]}” for a label.",
            hint=f"Choose one of {', '.join(PAPERS)}.",
        )
    answer = _sure(request, formula_id)
    content = labels.label_pdf(label=answer.label, paper=PAPERS[paper])
    return _file(content, answer, "pdf", "application/pdf")


@require_safe
def label_text(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the label as plain text, with the numbers before rounding."""
    answer = _sure(request, formula_id)
    content = labels.label_text(label=answer.label, has_figures=True)
    return _file(content, answer, "txt", "text/plain; charset=utf-8")


@require_POST
def label_keep(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Keep what was chosen with the version; it counts from now on."""
    found = _asked(request.POST, formula_id)
    if not found.form.errors:
        try:
            labels.choices_keep(
                formula_id=formula_id, number=found.number, fields=found.form.chosen
            )
        except InputError as error:
            found.form.refuse(error)
        else:
            messages.success(request, f"These choices are kept with version {found.number}.")
            kept = QueryDict(mutable=True)
            kept["market"] = found.form.ask.market.value
            if request.POST.get("version"):
                kept["version"] = str(found.number)
            address = reverse("label_view", args=[formula_id])
            return redirect(f"{address}?{kept.urlencode()}")
    context = _context(request.POST, formula_id, found) | {"is_part": False}
    return render(request, "label/view.html", context)


@dataclass(frozen=True, slots=True)
class _Asked:
    """The form, its label where it can be computed, and what was kept for it."""

    form: LabelForm
    answer: labels.LabelAnswer | None
    number: int
    kept: labels.KeptChoices | None
    is_kept: bool


def _asked(given: QueryDict, formula_id: int) -> _Asked:
    """Compute what the form asks; what cannot be computed becomes a message at its field."""
    number = version_number(given.get("version", ""))
    detail = formulas.version_get(formula_id=formula_id, number=number)
    number, first = detail.summary.number, labels.ask_first(detail.formula)
    kept = labels.choices_kept(formula_id=formula_id, number=number, market=given.get("market", ""))
    form = LabelForm(asked_of(given, kept), first)
    if not form.is_valid():
        return _Asked(form, None, number, kept, is_kept=False)
    is_kept = (
        kept is not None
        and not kept.is_earlier
        and labels.ask_make(kept.fields, first).ask == replace(form.ask, stage=labels.Stage.DRAFT)
    )
    try:
        answer = labels.label_get(
            formula=detail.formula, formula_id=formula_id, number=number, ask=form.ask
        )
    except InputError as error:
        form.refuse(error)
        return _Asked(form, None, number, kept, is_kept=is_kept)
    for problem in answer.problems:
        form.refuse(problem)
    return _Asked(form, answer, number, kept, is_kept=is_kept)


def _sure(request: HttpRequest, formula_id: int) -> labels.LabelAnswer:
    found = _asked(request.GET, formula_id)
    if found.answer is None or found.form.errors:
        said = next(iter(found.form.errors.values()))[0]
        raise InputError(f"This label cannot be given as a file: {said}")
    return found.answer


def _context(given: QueryDict, formula_id: int, found: _Asked) -> dict[str, Any]:
    asked, form, answer = given.copy(), found.form, found.answer
    for name in ("paper", "csrfmiddlewaretoken"):
        asked.pop(name, None)
    paper = given.get("paper", DEFAULT)
    return {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "number": version_number(given.get("version", "")),
        "version": found.number,
        "answer": answer,
        "label": answer.label if answer else None,
        "kept": found.kept,
        "is_kept": found.is_kept,
        "carried": carried(form),
        "first_fields": [form[name] for name in FIRST],
        "serving_fields": [form[name] for name in SERVING],
        "list_fields": [form[name] for name in LIST],
        "more_fields": [form[name] for name in MORE],
        "own_fields": [form[name] for name in OWN],
        "papers": tuple(PAPERS),
        "paper": paper if paper in PAPERS else DEFAULT,
        "query": asked.urlencode(),
    }


def _file(content: bytes | str, answer: labels.LabelAnswer, ending: str, kind: str) -> HttpResponse:
    name = slugify(answer.label.title) or "formula"
    market = answer.label.market.value
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}-label-{market}-draft.{ending}"'
    return response
