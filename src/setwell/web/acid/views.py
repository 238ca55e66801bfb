"""The page that tells what brings a formula to a pH."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import acidity, formulas
from setwell.services.acidity import TitrationPlan
from setwell.services.formulas import VersionDetail
from setwell.web.acid.forms import AcidForm
from setwell.web.rounding import span_write

# Every fourth of the 41 points goes into the table beside the drawing.
_EVERY = 4


@require_safe
def acid_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show pH, curve and doses of the newest version; the address holds the target."""
    detail = formulas.version_get(formula_id=formula_id)
    form = AcidForm(request.GET or None)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        **_worked_out(form, detail),
    }
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    return render(request, "acid/_answer.html" if is_part else "acid/view.html", context)


def _worked_out(form: AcidForm, detail: VersionDetail) -> dict[str, Any]:
    is_asked = form.is_bound and form.is_valid()
    target = form.cleaned_data.get("to") if is_asked else None
    additive = (form.cleaned_data.get("additive") or None) if is_asked else None
    try:
        curve = acidity.titration(additive=additive, target_ph=target, **_version(detail))
        plan = None
        if target is not None:
            plan = acidity.acid_dose(target_ph=target, additive=additive, **_version(detail))
    except InputError as error:
        return {"problem": error}
    return {"curve": curve, "plan": plan, "points": _points(curve), "drawing": _drawing(curve)}


def _version(detail: VersionDetail) -> dict[str, Any]:
    named = detail.summary
    return {"formula": detail.formula, "formula_id": named.formula_id, "number": named.number}


def _points(curve: TitrationPlan) -> list[tuple[float, list[str]]]:
    """Return g per kg with the pH of each curve and its range."""
    curves = curve.titration.curves
    return [
        (grams, [_ph(one.ph[at], one.ph_low[at], one.ph_high[at]) for one in curves])
        for at, grams in enumerate(curves[0].grams_per_kg)
        if at % _EVERY == 0
    ]


def _ph(value: float, low: float, high: float) -> str:
    middle, least, most = span_write(value, low, high)
    return f"{middle} ({least} to {most})"


def _drawing(curve: TitrationPlan) -> SafeString:
    # Our own drawing: names in it are escaped where it is made.
    return mark_safe(curve.svg)  # noqa: S308
