"""The page that shows what a blend becomes, and all ratios and doses around it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_safe

from setwell.domain.formula import Formula
from setwell.errors import InputError
from setwell.provenance import evidence_join
from setwell.services.blend_explorer import BlendAnswer, BlendChart, blend_explore
from setwell.web.blend.forms import SLIDES, BlendForm
from setwell.web.formula.sheet import formula_initial

_IN_MOUTH = {
    "yes": "melts in the mouth",
    "no": "does not melt in the mouth",
    "cannot tell": "may melt in the mouth",
}


@require_safe
def blend_view(request: HttpRequest) -> HttpResponse:
    """Show a blend; the address holds all of it, so that it can be shared."""
    form = BlendForm(request.GET.dict())
    answer = _answer(form)
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context: dict[str, Any] = {"form": form, "answer": answer, "is_part": is_part}
    if answer is not None:
        context["charts"] = [(chart, _drawing(chart)) for chart in answer.charts]
        context["carried"] = carried(answer.formula)
        context["ratio"] = _ratio(answer)
        context["in_mouth"] = _in_mouth(answer)
        context["caution_evidence"] = evidence_join(one.evidence for one in answer.cautions)
        context["best"] = [(one.what, _written(one.shares)) for one in answer.grid.best]
    if not is_part:
        context["rows"] = {name: (form[name], SLIDES.get(name)) for name in form.fields}
    return render(request, "blend/_answer.html" if is_part else "blend/view.html", context)


def _answer(form: BlendForm) -> BlendAnswer | None:
    """Compute what the form asks; what cannot be tried becomes a message at its field."""
    if not form.is_valid():
        return None
    version = form.cleaned_data["version"]
    try:
        return blend_explore(ask=form.ask, formula_id=form.cleaned_data["formula"], number=version)
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.message} {error.hint}".strip())
    return None


def _drawing(chart: BlendChart) -> SafeString:
    # Our own drawing: names in it are escaped where it is made.
    return mark_safe(chart.svg)  # noqa: S308


def carried(formula: Formula) -> list[tuple[str, str]]:
    """Return what the formula editor takes, as its own form would post it."""
    fields = formula_initial(formula)
    fields.pop("base_number")
    fields_out: list[tuple[str, str]] = []
    for name, value in fields.items():
        values = value if isinstance(value, list) else [value]
        fields_out += [(name, str(one)) for one in values if one not in ("", None)]
    return fields_out


def _ratio(answer: BlendAnswer) -> list[tuple[str, float, float]]:
    """Return each agent with its share and its dose in percent."""
    grid = answer.grid
    return [
        (agent.name, 100.0 * share, share * grid.dose_pct)
        for agent, share in zip(grid.agents, grid.shares, strict=True)
    ]


def _in_mouth(answer: BlendAnswer) -> str:
    melts = answer.texture.melts_in_mouth
    return "" if melts is None else _IN_MOUTH[melts.value]


def _written(shares: tuple[float, ...]) -> str:
    return " : ".join(f"{100.0 * share:.0f}" for share in shares)
