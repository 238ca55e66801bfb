"""The page that scales a formula to a weight, to portions or to molds."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas, scaling
from setwell.services.formulas import VersionDetail
from setwell.services.results import ScaledFormula
from setwell.web.version.forms import ScaleForm
from setwell.web.version.scaled_on import scaled_on


@require_safe
def formula_scale(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Scale the newest version; the address holds the target, so it can be kept and shared."""
    detail = formulas.version_get(formula_id=formula_id)
    form = ScaleForm(request.GET) if request.GET else ScaleForm()
    scaled = _scaled(form, detail)
    asked = request.GET.dict()
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "scaled": scaled,
        "onward": scaled_on(formula_id, scaled.weighed_g, asked) if scaled else None,
    }
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    return render(request, "version/_scaled.html" if is_part else "version/scale.html", context)


def _scaled(form: ScaleForm, detail: VersionDetail) -> ScaledFormula | None:
    if not form.is_valid():
        return None
    try:
        return scaling.formula_scale(formula=detail.formula, **form.scale_target)
    except InputError as error:
        form.add_error(None, f"{error.message} {error.hint}".strip())
        return None
