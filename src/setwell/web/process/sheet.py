"""The bench sheet as a page and as a PDF."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import bench_sheets, formulas, process
from setwell.web.batch_asked import BatchForm, scale_asked
from setwell.web.process.asking import Asked, asked

PAPERS: dict[str, bench_sheets.SheetPaper] = {"A4": "A4", "Letter": "Letter"}
DEFAULT = "A4"
# The formula's own batch, whatever is planned.
SIZE, AS_WRITTEN = "size", "written"


@require_safe
def sheet_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the bench sheet of the process that the address holds."""
    paper = request.GET.get("paper", DEFAULT)
    found = _found(request, formula_id)
    given = request.GET.copy()
    given.pop("paper", None)
    other = given.copy()
    if other.pop(SIZE, None) is None:
        other[SIZE] = AS_WRITTEN
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "sheet": _sheet(request, found),
        "batches": bench_sheets.sheet_batches(found),
        "other_query": other.urlencode(),
        "is_as_written": _is_as_written(request),
        "scale_query": urlencode(scale_asked(request.GET.dict())),
        "papers": tuple(PAPERS),
        "paper": paper if paper in PAPERS else DEFAULT,
        "query": given.urlencode(),
        "carried": list(given.items()),
    }
    return render(request, "process/sheet.html", context)


@require_safe
def sheet_pdf(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Give the bench sheet as a PDF."""
    paper = request.GET.get("paper", DEFAULT)
    if paper not in PAPERS:
        raise InputError(
            f"There is no paper “{paper[:20]}” for a bench sheet.",
            hint=f"Choose one of {', '.join(PAPERS)}.",
        )
    made = _sheet(request, _found(request, formula_id))
    content = bench_sheets.bench_sheet_pdf(sheet=made, paper=PAPERS[paper])
    response = HttpResponse(content, content_type="application/pdf")
    name = slugify(made.title) or "formula"
    response["Content-Disposition"] = f'attachment; filename="{name}-bench-sheet.pdf"'
    return response


def _sheet(request: HttpRequest, found: process.ProcessAnswer) -> bench_sheets.BenchSheet:
    form = BatchForm(request.GET)
    return bench_sheets.bench_sheet(
        found, is_as_typed=_is_as_written(request), readability_g=form.step, makes=form.makes
    )


def _is_as_written(request: HttpRequest) -> bool:
    return request.GET.get(SIZE) == AS_WRITTEN


def _found(request: HttpRequest, formula_id: int) -> process.ProcessAnswer:
    found: Asked = asked(formula_id, request.GET.dict())
    if found.answer is None:
        said = next(iter(found.form.errors.values()))[0]
        raise InputError(f"This process cannot be computed: {said}")
    return found.answer
