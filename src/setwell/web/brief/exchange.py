"""Pages that bring a brief in and give one out."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_safe

from setwell.errors import InputError
from setwell.services import briefs
from setwell.web.formula.import_form import ImportForm


class BriefImportForm(ImportForm):
    """A brief from another kitchen: a file or pasted text."""

    file = forms.FileField(
        label="File", required=False, help_text="A brief saved by Setwell (.json)."
    )


@require_http_methods(["GET", "POST"])
def brief_import(request: HttpRequest) -> HttpResponse:
    """Read a brief from a file or pasted text; the same one twice is saved once."""
    if request.method == "GET":
        return render(request, "brief/import.html", {"form": BriefImportForm()})
    form = BriefImportForm(request.POST, request.FILES)
    if form.is_valid():
        done = _imported(request, form, form.cleaned_data)
        if done is not None:
            return done
    return render(request, "brief/import.html", {"form": form})


@require_safe
def brief_export(request: HttpRequest, brief_id: int) -> HttpResponse:  # noqa: ARG001
    """Give the newest version as JSON."""
    brief = briefs.brief_get(brief_id=brief_id).brief
    content = briefs.brief_export_json(brief=brief)
    response = HttpResponse(content, content_type="application/json")
    name = slugify(brief.title) or "brief"
    response["Content-Disposition"] = f'attachment; filename="{name}-brief.json"'
    return response


def _imported(
    request: HttpRequest, form: BriefImportForm, values: dict[str, Any]
) -> HttpResponse | None:
    try:
        done = briefs.brief_import(text=values["content"])
    except InputError as error:
        where = f" (at {error.field})" if error.field else ""
        said = f"{error.message}{where} {error.hint}".strip()
        form.add_error("file" if values["filename"] else "text", said)
        return None
    if done.was_known:
        messages.success(request, "This brief was here already, so it was not added again.")
    return redirect("brief_edit", brief_id=done.id)
