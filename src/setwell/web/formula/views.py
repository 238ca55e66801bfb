"""Pages to list, write, compute and save formulas."""

import logging

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from setwell.errors import InputError, SetwellError
from setwell.services import assessment as assessments
from setwell.services import formulas
from setwell.services.formulas import FormulaSummary, SavedVersion
from setwell.services.results import Assessment
from setwell.web.formula.forms import FormulaForm
from setwell.web.formula.sheet import formula_initial, sheet_read

_log = logging.getLogger(__name__)


@require_safe
def formula_list(request: HttpRequest) -> HttpResponse:
    """List formulas, searched by words and by whether they are put away."""
    search = request.GET.get("search", "")[:120]
    archived = request.GET.get("archived") == "1"
    found = formulas.formula_list(search=search, archived=archived)
    context = {"formulas": found, "search": search, "archived": archived}
    is_part = request.htmx and request.htmx.target == "found"  # type: ignore[attr-defined]
    return render(request, "formula/_found.html" if is_part else "formula/list.html", context)


@require_http_methods(["GET", "POST"])
def formula_new(request: HttpRequest) -> HttpResponse:
    """Write a formula that is not saved yet."""
    if request.method == "GET":
        return _page(request, FormulaForm(), None)
    is_saving = "save" in request.POST
    form = FormulaForm(sheet_read(request.POST), must_name=is_saving)
    if is_saving and form.is_valid() and form.formula:
        note = form.cleaned_data["version_note"]
        saved = formulas.formula_create(formula=form.formula, note=note)
        messages.success(request, f"Saved as version {saved.number}.")
        return redirect("formula_edit", formula_id=saved.formula_id)
    return _page(request, form, None)


@require_http_methods(["GET", "POST"])
def formula_edit(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the newest version, ready to be changed; compute or save what was changed."""
    summary = formulas.formula_get(formula_id=formula_id)
    if request.method == "GET":
        head = formulas.version_get(formula_id=formula_id)
        initial = formula_initial(head.formula, base_number=head.summary.number)
        return _page(request, FormulaForm(initial), summary)
    is_saving = "save" in request.POST
    form = FormulaForm(sheet_read(request.POST), must_name=is_saving)
    if is_saving and form.is_valid() and form.formula:
        base = form.cleaned_data["base_number"] or summary.head_number
        note = form.cleaned_data["version_note"]
        saved = formulas.formula_save(
            formula_id=formula_id, formula=form.formula, base_number=base, note=note
        )
        return _saved(request, saved)
    return _page(request, form, summary)


@require_POST
def formula_preview(request: HttpRequest) -> HttpResponse:
    """Compute what is in the form and return only the results."""
    form = FormulaForm(sheet_read(request.POST))
    computed = _assess(form, _number(request.GET.get("formula")))
    is_corrected = "replace" in request.POST or "correct" in request.POST
    context = {"form": form, "assessment": computed, "is_corrected": is_corrected}
    return render(request, "results/_answer.html", context)


@require_http_methods(["GET", "POST"])
def formula_duplicate(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Ask, then copy a formula under a new number."""
    summary = formulas.formula_get(formula_id=formula_id)
    if request.method == "GET":
        return render(request, "formula/duplicate.html", {"summary": summary})
    saved = formulas.formula_duplicate(formula_id=formula_id)
    messages.success(request, f"This is a copy of “{summary.title}”. Give it its own name.")
    return redirect("formula_edit", formula_id=saved.formula_id)


@require_http_methods(["GET", "POST"])
def formula_archive(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Ask, then put a formula away or take it back."""
    summary = formulas.formula_get(formula_id=formula_id)
    if request.method == "GET":
        return render(request, "formula/archive.html", {"summary": summary})
    formulas.formula_archive(formula_id=formula_id, archived=not summary.archived)
    done = "Taken back" if summary.archived else "Put away"
    messages.success(request, f"{done}: “{summary.title}”.")
    return redirect("formula_list")


def _saved(request: HttpRequest, saved: SavedVersion) -> HttpResponse:
    address = reverse("formula_edit", args=[saved.formula_id])
    if saved.overtaken_by is not None:
        return redirect(
            f"{address}?{urlencode({'overtaken': saved.overtaken_by, 'saved': saved.number})}"
        )
    words = (
        f"Nothing changed since version {saved.number}, so no version was added."
        if saved.was_unchanged
        else f"Saved as version {saved.number}."
    )
    messages.success(request, words)
    return redirect(address)


def _assess(form: FormulaForm, formula_id: int | None = None) -> Assessment | None:
    """Compute what the form holds; what cannot be computed becomes a message in the form."""
    if not form.is_valid() or form.formula is None:
        return None
    try:
        return assessments.formula_assess(formula=form.formula, formula_id=formula_id)
    except SetwellError as error:
        name = error.field if isinstance(error, InputError) else ""
        field = name if name in form.fields else None
        form.add_error(field, f"{error.message} {error.hint}".strip())
    except Exception:
        # A fault of ours must not cost what was typed: the page comes back with the text.
        _log.exception("The assessment failed.")
        form.add_error(
            None,
            "This could not be computed because of a fault on our side. It can still be saved.",
        )
    return None


def _page(request: HttpRequest, form: FormulaForm, summary: FormulaSummary | None) -> HttpResponse:
    computed = _assess(form, summary.id if summary else None) if form.is_bound else None
    context = {
        "form": form,
        "summary": summary,
        "assessment": computed,
        "overtaken": _number(request.GET.get("overtaken")),
        "saved": _number(request.GET.get("saved")),
    }
    return render(request, "formula/edit.html", context)


def _number(text: str | None) -> int | None:
    return int(text) if text and text.isascii() and text.isdigit() and len(text) < 10 else None
