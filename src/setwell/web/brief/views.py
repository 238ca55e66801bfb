"""Pages to list, write, save and put away briefs."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from setwell.services import briefs
from setwell.services.briefs import BriefSummary, SavedBrief
from setwell.web.brief.forms import BriefForm
from setwell.web.brief.results import panel_for
from setwell.web.brief.sheet import base_groups, brief_initial, groups, new_initial

# A way out is one sentence.
_TRIED_MOST = 400


@require_safe
def brief_list(request: HttpRequest) -> HttpResponse:
    """List briefs, searched by words and by whether they are put away."""
    search = request.GET.get("search", "")[:120]
    put_away = request.GET.get("archived") == "1"
    found = briefs.briefs_list(search=search, put_away=put_away)
    context = {"briefs": found, "search": search, "archived": put_away}
    is_part = request.htmx and request.htmx.target == "found"  # type: ignore[attr-defined]
    return render(request, "brief/_found.html" if is_part else "brief/list.html", context)


@require_http_methods(["GET", "POST"])
def brief_new(request: HttpRequest) -> HttpResponse:
    """Write a brief that is not saved yet; the address may fill in some of it."""
    if request.method == "GET":
        return brief_page(request, BriefForm(new_initial(request.GET)))
    is_saving = "save" in request.POST
    form = BriefForm(request.POST, must_name=is_saving)
    if is_saving and form.is_valid() and form.brief:
        saved = briefs.brief_save(brief=form.brief)
        return _saved(request, form, saved)
    return brief_page(request, form)


@require_http_methods(["GET", "POST"])
def brief_edit(request: HttpRequest, brief_id: int) -> HttpResponse:
    """Show the newest version of a brief with its proposals; save what was changed."""
    head = briefs.brief_get(brief_id=brief_id)
    if request.method == "GET":
        number = request.GET.get("version", "")
        is_number = number.isascii() and number.isdigit() and len(number) < 10
        shown = briefs.brief_get(brief_id=brief_id, number=int(number)) if is_number else head
        initial = brief_initial(shown.brief, brief_id=brief_id, base_number=head.number)
        return brief_page(request, BriefForm(initial), head.summary, shown=shown.number)
    is_saving = "save" in request.POST
    form = BriefForm(request.POST, must_name=is_saving)
    if is_saving and form.is_valid() and form.brief:
        base = form.cleaned_data["base_number"]
        saved = briefs.brief_update(brief_id=brief_id, brief=form.brief, base_number=base)
        return _saved(request, form, saved)
    return brief_page(request, form, head.summary)


@require_POST
def brief_check(request: HttpRequest) -> HttpResponse:
    """Return what is wrong at which field, long before a search is done."""
    return render(request, "brief/_problems.html", {"form": BriefForm(request.POST)})


@require_POST
def brief_shelf(request: HttpRequest) -> HttpResponse:
    """Return the boxes of the agents whose name holds a word, and of those that are ticked."""
    return render(request, "brief/_shelf.html", {"field": BriefForm(request.POST)["shelf"]})


@require_safe
def brief_versions(request: HttpRequest, brief_id: int) -> HttpResponse:
    """List all versions of a brief."""
    history = briefs.brief_history(brief_id=brief_id)
    context = {"summary": history[0].summary, "history": history}
    return render(request, "brief/versions.html", context)


@require_http_methods(["GET", "POST"])
def brief_put_away(request: HttpRequest, brief_id: int) -> HttpResponse:
    """Ask, then put a brief away or take it back."""
    summary = briefs.brief_get(brief_id=brief_id).summary
    if request.method == "GET":
        return render(request, "brief/put_away.html", {"summary": summary})
    briefs.brief_put_away(brief_id=brief_id, put_away=not summary.put_away)
    done = "Taken back" if summary.put_away else "Put away"
    messages.success(request, f"{done}: “{summary.title}”.")
    return redirect("brief_list")


def brief_page(
    request: HttpRequest,
    form: BriefForm,
    summary: BriefSummary | None = None,
    *,
    shown: int | None = None,
) -> HttpResponse:
    """Return the whole page around a form, with every problem at its field."""
    # First of all: what the search refuses becomes a message at its field.
    found = panel_for(form) if "show" in request.POST else {}
    context = {
        "form": form,
        "summary": summary,
        "bases": base_groups(form),
        "groups": groups(form),
        "shown": shown,
        # What one press on a way out has changed.
        "tried": request.POST.get("tried", "")[:_TRIED_MOST],
        # What asks for nothing yet, or cannot be read, is not searched when its page opens.
        "is_asking": request.method == "GET"
        and form.is_valid()
        and (summary is not None or form.asks_texture),
        **found,
    }
    return render(request, "brief/edit.html", context)


def _saved(request: HttpRequest, form: BriefForm, saved: SavedBrief) -> HttpResponse:
    words = f"Saved as version {saved.number}."
    if saved.was_unchanged:
        words = f"Nothing changed since version {saved.number}, so no version was added."
    messages.success(request, words)
    if saved.overtaken_by is not None:
        messages.warning(
            request,
            f"Somebody saved version {saved.overtaken_by} in between. It stays: see “Versions”.",
        )
    for unused in form.bases_unused:
        messages.warning(
            request, f"What stands under “{unused}” is not the base, so it was not saved."
        )
    return redirect("brief_edit", brief_id=saved.id)
