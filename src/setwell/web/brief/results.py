"""What meets a brief: the short list, the map, what nothing else beats, and why not the rest."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from setwell.errors import InputError
from setwell.services.briefs import brief_asked as told
from setwell.services.proposals import proposal_make_formula
from setwell.services.proposals_view import ProposalsView, proposals_view
from setwell.web.brief.asked import AskedBrief, brief_of
from setwell.web.brief.cards import cards_of, cautions_of, drawn, heading_of
from setwell.web.brief.forms import BriefForm
from setwell.web.brief.relax import way_back, ways_out


@require_http_methods(["GET", "HEAD", "POST"])
def brief_proposals(request: HttpRequest) -> HttpResponse:
    """Show what meets a brief: the panel alone for a script, single agents before all others."""
    if "brief" in request.POST or "brief" in request.GET:
        return _of_document(request)
    form = BriefForm(request.POST)
    if not request.htmx:  # type: ignore[attr-defined]
        return redirect("brief_new")
    context = {"form": form, "is_part": True, **panel_for(form, is_first=True)}
    return render(request, "brief/results_panel.html", context)


def panel_for(form: BriefForm, *, is_first: bool = False) -> dict[str, Any]:
    """Return what `brief/results_panel.html` shows for a form; problems go to its fields."""
    if not form.is_valid() or form.brief is None:
        return {}
    values = form.cleaned_data
    asked = AskedBrief(form.brief, values.get("brief_id"), values.get("base_number"))
    try:
        return panel(asked, is_first=is_first)
    except InputError as error:
        form.refuse(error)
    return {}


def panel(asked: AskedBrief, *, is_first: bool = False) -> dict[str, Any]:
    """Return what `brief/results_panel.html` shows. Raises InputError at the dotted field."""
    view = proposals_view(asked.brief, is_first=is_first)
    return {"asked": asked, "panel": _shown(view, asked)}


@require_POST
def brief_make_formula(request: HttpRequest) -> HttpResponse:
    """Save a proposal as a new formula and open it."""
    asked = brief_of(request)
    formula_id = proposal_make_formula(asked.brief, request.POST.get("code", ""))
    messages.success(
        request,
        f"Saved as version 1, from the brief “{asked.brief.title}”, which stays as it is. "
        "Make one cup, then record what you measure.",
    )
    return redirect("formula_edit", formula_id=formula_id)


def _of_document(request: HttpRequest) -> HttpResponse:
    asked = brief_of(request)
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context: dict[str, Any] = {"asked": asked, "told": told(asked.brief), "back": way_back(asked)}
    try:
        context |= panel(asked)
    except InputError as error:
        context |= {"refused": error, "field": error.field.replace(".", "__")}
    return render(request, "brief/results_panel.html" if is_part else "brief/results.html", context)


def _shown(view: ProposalsView, asked: AskedBrief) -> dict[str, Any]:
    found = view.found
    cards = cards_of(found, view.currency)
    return {
        "found": found,
        "cards": cards,
        "cautions": cautions_of(found),
        "heading": heading_of(cards),
        "is_met": any(all(one.holds != "no" for one in each.wishes) for each in found.proposals),
        "portion_g": asked.brief.portion_g,
        "charts": [drawn(chart) for chart in view.charts],
        "out": view.out,
        "judged": view.judged,
        "judged_total": f"{found.judged.total:,} candidates judged",
        "ways_out": ways_out(found, asked),
    }
