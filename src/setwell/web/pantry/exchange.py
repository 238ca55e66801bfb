"""A shelf as a CSV file, out and in."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from setwell.errors import InputError
from setwell.services import pantry
from setwell.web.pantry.forms import PantryImportForm
from setwell.web.pantry.shelves import SHELVES, Shelf


@require_safe
def pantry_export(request: HttpRequest, shelf: Shelf) -> HttpResponse:  # noqa: ARG001
    """Give a shelf as CSV."""
    content = pantry.pantry_export_csv(entity=shelf.entity)
    response = HttpResponse(content, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{shelf.slug}.csv"'
    return response


@require_http_methods(["GET", "POST"])
def pantry_import(request: HttpRequest, shelf: Shelf) -> HttpResponse:
    """Read a CSV file onto a shelf, wholly or not at all, and report."""
    context = {"shelf": shelf, "shelves": SHELVES, "form": PantryImportForm(), "report": None}
    if request.method == "POST":
        form = PantryImportForm(request.POST, request.FILES)
        context["form"] = form
        if form.is_valid():
            data = form.cleaned_data["file"].read()
            try:
                context["report"] = pantry.pantry_import_csv(entity=shelf.entity, data=data)
            except InputError as error:
                form.add_error("file", f"{error.message} {error.hint}".strip())
    return render(request, "pantry/import.html", context)
