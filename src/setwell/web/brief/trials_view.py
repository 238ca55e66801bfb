"""A first trial set around a proposal: cups to weigh, in which order, and what each tells."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods

from setwell.errors import InputError
from setwell.services.proposal_trials import (
    CUP_G,
    SCALE_G,
    CupAmount,
    TrialPaper,
    TrialSet,
    trial_csv,
    trial_pdf,
    trial_set_for,
    trial_text,
)
from setwell.web.brief.asked import AskedBrief, brief_of
from setwell.web.brief.relax import way_back
from setwell.web.figures import scaled
from setwell.web.inputs import NumberField, number_initial

_SEED_MOST = 999_999


class TrialsForm(forms.Form):
    """How the cups are laid out; what is left empty is as usual."""

    cup = NumberField(label="One cup, g", low=20, high=2000, unit="g")
    scale = NumberField(label="The scale shows, g", low=0.0001, high=1, unit="g")
    seed = NumberField(
        label="Draw", low=1, high=_SEED_MOST, is_whole=True,
        help_text="Another number draws another order and other codes.",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class CupRow:
    """One cup as a row: what to weigh of each column."""

    number: int
    code: str
    weights: tuple[str, ...]


@require_http_methods(["GET", "HEAD", "POST"])
def brief_trials(request: HttpRequest) -> HttpResponse:
    """Show a first trial set; the address holds all of it."""
    return _answered(request)


@require_http_methods(["GET", "HEAD", "POST"])
def brief_trials_pdf(request: HttpRequest) -> HttpResponse:
    """Give the sheet of a trial set as a PDF."""
    paper: TrialPaper = "Letter" if _sent(request, "paper") == "Letter" else "A4"
    return _answered(
        request, lambda found: _file(trial_pdf(found, paper=paper), found, "pdf", "application/pdf")
    )


@require_http_methods(["GET", "HEAD", "POST"])
def brief_trials_csv(request: HttpRequest) -> HttpResponse:
    """Give a trial set as a table."""
    # The mark tells a spreadsheet that the file is Unicode.
    return _answered(
        request, lambda found: _file("\ufeff" + trial_csv(found), found, "csv", "text/csv")
    )


@require_http_methods(["GET", "HEAD", "POST"])
def brief_trials_text(request: HttpRequest) -> HttpResponse:
    """Give the sheet of a trial set as plain text."""
    return _answered(
        request, lambda found: _file(trial_text(found), found, "txt", "text/plain; charset=utf-8")
    )


def _answered(
    request: HttpRequest, made: Callable[[TrialSet], HttpResponse] | None = None
) -> HttpResponse:
    """Return what is made of the trial set; the page with its messages where there is none."""
    asked, code = brief_of(request), _sent(request, "code")
    form = TrialsForm(_typed(request))
    found = _trials(form, asked, code)
    if found is not None and made is not None:
        return made(found)
    carried = (*asked.fields, ("code", code))
    context: dict[str, Any] = {
        "asked": asked,
        "form": form,
        "back": way_back(asked),
        "carried": carried,
        "sheet_carried": (*carried, *form.data.items()),
    }
    if found is not None:
        context |= {"trials": found, "columns": columns(found), "rows": rows(found)}
    return render(request, "brief/trial_set.html", context)


def _file(content: bytes | str, found: TrialSet, ending: str, kind: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    name = slugify(found.brief_title) or "trial-set"
    response["Content-Disposition"] = f'attachment; filename="{name}-trials.{ending}"'
    return response


def columns(found: TrialSet) -> tuple[str, ...]:
    """Return the headings of the table of weights."""
    late = tuple(f"{name}, late" for name in _names(found, "late"))
    return ("Base", *_names(found, "amounts"), *late)


def rows(found: TrialSet) -> tuple[CupRow, ...]:
    """Return every cup with its weights, in the order of making."""
    return tuple(
        CupRow(
            cup.number,
            cup.code,
            (
                scaled(cup.base_g, found.scale_g),
                *(_weight(cup.amounts, name, found.scale_g) for name in _names(found, "amounts")),
                *(_weight(cup.late, name, found.scale_g) for name in _names(found, "late")),
            ),
        )
        for cup in found.cups
    )


def _trials(form: TrialsForm, asked: AskedBrief, code: str) -> TrialSet | None:
    if not form.is_valid():
        return None
    values = form.cleaned_data
    try:
        return trial_set_for(
            asked.brief, code, cup_g=values["cup"] or CUP_G, scale_g=values["scale"] or SCALE_G,
            seed=values["seed"] or 1,
        )  # fmt: skip
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.message} {error.hint}".strip())
    return None


def _typed(request: HttpRequest) -> dict[str, str]:
    usual = {"cup": number_initial(CUP_G), "scale": number_initial(SCALE_G), "seed": "1"}
    return {name: _sent(request, name) or value for name, value in usual.items()}


def _sent(request: HttpRequest, name: str) -> str:
    return request.POST.get(name) or request.GET.get(name, "")


def _names(found: TrialSet, kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.name for cup in found.cups for one in getattr(cup, kind)))


def _weight(amounts: tuple[CupAmount, ...], name: str, readability: float) -> str:
    one = next((one for one in amounts if one.name == name), None)
    if one is None or one.grams == 0.0:
        return "none"
    if one.stock_g is not None:
        return f"{scaled(one.stock_g, readability)} of the stock"
    return scaled(one.grams, readability)
