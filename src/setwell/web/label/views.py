"""The label as a page, as a PDF and as text; the address holds all that was chosen."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas, labels
from setwell.web.label.forms import FIRST, LIST, MORE, OWN, SERVING, LabelForm
from setwell.web.process.asking import version_number

PAPERS: dict[str, labels.LabelPaper] = {"A4": "A4", "Letter": "Letter"}
DEFAULT = "A4"


@require_safe
def label_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the label of the newest version, or of the one asked for."""
    form, answer = _asked(request, formula_id)
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context = _context(request, formula_id, form, answer) | {"is_part": is_part}
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


def _asked(request: HttpRequest, formula_id: int) -> tuple[LabelForm, labels.LabelAnswer | None]:
    """Compute what the form asks; what cannot be computed becomes a message at its field."""
    number = version_number(request.GET.get("version", ""))
    detail = formulas.version_get(formula_id=formula_id, number=number)
    form = LabelForm(request.GET, labels.ask_first(detail.formula))
    if not form.is_valid():
        return form, None
    try:
        answer = labels.label_get(
            formula=detail.formula,
            formula_id=formula_id,
            number=detail.summary.number,
            ask=form.ask,
        )
    except InputError as error:
        form.refuse(error)
        return form, None
    for problem in answer.problems:
        form.refuse(problem)
    return form, answer


def _sure(request: HttpRequest, formula_id: int) -> labels.LabelAnswer:
    form, answer = _asked(request, formula_id)
    if answer is None or form.errors:
        said = next(iter(form.errors.values()))[0]
        raise InputError(f"This label cannot be given as a file: {said}")
    return answer


def _context(
    request: HttpRequest,
    formula_id: int,
    form: LabelForm,
    answer: labels.LabelAnswer | None,
) -> dict[str, Any]:
    given = request.GET.copy()
    given.pop("paper", None)
    paper = request.GET.get("paper", DEFAULT)
    return {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "number": version_number(request.GET.get("version", "")),
        "answer": answer,
        "label": answer.label if answer else None,
        "first_fields": [form[name] for name in FIRST],
        "serving_fields": [form[name] for name in SERVING],
        "list_fields": [form[name] for name in LIST],
        "more_fields": [form[name] for name in MORE],
        "own_fields": [form[name] for name in OWN],
        "papers": tuple(PAPERS),
        "paper": paper if paper in PAPERS else DEFAULT,
        "query": given.urlencode(),
    }


def _file(content: bytes | str, answer: labels.LabelAnswer, ending: str, kind: str) -> HttpResponse:
    name = slugify(answer.label.title) or "formula"
    market = answer.label.market.value
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}-label-{market}-draft.{ending}"'
    return response
