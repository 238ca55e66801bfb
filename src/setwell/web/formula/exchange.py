"""Pages that bring a formula in and give one out."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_safe

from setwell.errors import InputError
from setwell.services import exchange, formulas
from setwell.web.formula.import_form import ImportForm


@require_http_methods(["GET", "POST"])
def formula_import(request: HttpRequest) -> HttpResponse:
    """Read a formula from a file or pasted text and save it as its first version."""
    if request.method == "GET":
        return render(request, "formula/import.html", {"form": ImportForm()})
    form = ImportForm(request.POST, request.FILES)
    if not form.is_valid():
        return render(request, "formula/import.html", {"form": form})
    content, filename = form.cleaned_data["content"], form.cleaned_data["filename"]
    try:
        formula = exchange.formula_import(text=content, filename=filename)
    except InputError as error:
        form.add_error("file" if filename else "text", f"{error.message} {error.hint}".strip())
        return render(request, "formula/import.html", {"form": form})
    saved = formulas.formula_create(formula=formula, note="Imported")
    return redirect("formula_edit", formula_id=saved.formula_id)


@require_safe
def formula_schema(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """Give the JSON Schema of the formula document."""
    return HttpResponse(exchange.formula_schema_json(), content_type="application/schema+json")


@require_safe
def export_json(request: HttpRequest, formula_id: int) -> HttpResponse:  # noqa: ARG001
    """Give the newest version as JSON."""
    formula = formulas.version_get(formula_id=formula_id).formula
    content = exchange.formula_export_json(formula=formula)
    return _file(content, formula.title, "json", "application/json")


@require_safe
def export_text(request: HttpRequest, formula_id: int) -> HttpResponse:  # noqa: ARG001
    """Give the newest version as plain text."""
    formula = formulas.version_get(formula_id=formula_id).formula
    content = exchange.formula_export_text(formula=formula)
    return _file(content, formula.title, "txt", "text/plain; charset=utf-8")


def _file(content: str, title: str, ending: str, kind: str) -> HttpResponse:
    name = slugify(title) or "formula"
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}.{ending}"'
    return response
