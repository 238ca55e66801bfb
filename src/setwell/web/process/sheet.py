"""The bench sheet as a page and as a PDF."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas, process
from setwell.web.process.asking import Asked, asked

PAPERS: dict[str, process.SheetPaper] = {"A4": "A4", "Letter": "Letter"}
DEFAULT = "A4"


@require_safe
def sheet_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the bench sheet of the process that the address holds."""
    paper = request.GET.get("paper", DEFAULT)
    found = _found(request, formula_id)
    given = request.GET.copy()
    given.pop("paper", None)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "sheet": process.bench_sheet(found),
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
    made = process.bench_sheet(_found(request, formula_id))
    content = process.bench_sheet_pdf(sheet=made, paper=PAPERS[paper])
    response = HttpResponse(content, content_type="application/pdf")
    name = slugify(made.title) or "formula"
    response["Content-Disposition"] = f'attachment; filename="{name}-bench-sheet.pdf"'
    return response


def _found(request: HttpRequest, formula_id: int) -> process.ProcessAnswer:
    found: Asked = asked(formula_id, request.GET.dict())
    if found.answer is None:
        said = next(iter(found.form.errors.values()))[0]
        raise InputError(f"This process cannot be computed: {said}")
    return found.answer
