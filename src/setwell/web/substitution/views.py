"""The page that replaces one agent of a formula and keeps its texture."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.provenance import evidence_join
from setwell.services import formulas
from setwell.services.formulas import VersionDetail
from setwell.services.substitution import Substitution, formula_substitute, replaceable
from setwell.web.blend.views import carried
from setwell.web.substitution.forms import SubstitutionForm

_KEPT = {True: "kept", False: "changes", None: "open"}


@require_safe
def substitute_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show a swap; the address holds all of it, so that it can be shared."""
    asked = request.GET.dict()
    detail = _detail(formula_id, asked.get("version", ""))
    form = SubstitutionForm(asked, replaceable(detail.formula))
    answer = _answer(form, detail)
    is_part = bool(request.htmx)  # type: ignore[attr-defined]
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "number": detail.summary.number,
        "form": form,
        "answer": answer,
        "is_part": is_part,
        **(_shown(answer, asked) if answer else {}),
    }
    page = "substitution/_answer.html" if is_part else "substitution/view.html"
    return render(request, page, context)


def _detail(formula_id: int, version: str) -> VersionDetail:
    """Return the version asked for; one that makes no sense is told at its field."""
    is_number = version.isascii() and version.isdigit() and len(version) < 7
    number = int(version) if is_number and int(version) > 0 else None
    return formulas.version_get(formula_id=formula_id, number=number)


def _answer(form: SubstitutionForm, detail: VersionDetail) -> Substitution | None:
    if not form.is_valid():
        return None
    named = detail.summary
    try:
        return formula_substitute(
            formula=detail.formula, ask=form.ask, formula_id=named.formula_id, number=named.number
        )
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.message} {error.hint}".strip())
    return None


def _shown(answer: Substitution, asked: dict[str, str]) -> dict[str, Any]:
    possible = [one for one in answer.candidates if one.is_possible]
    found: dict[str, Any] = {
        "possible": [(one, urlencode({**asked, "by": one.name})) for one in possible],
        "out": [one for one in answer.candidates if not one.is_possible],
    }
    swap = answer.swap
    if swap is not None:
        found |= {
            "swap": swap,
            "values": [(one, _KEPT[one.is_kept]) for one in swap.values],
            "carried": carried(swap.formula),
            "work_evidence": evidence_join(one.evidence for one in swap.process),
            "remark_evidence": evidence_join(one.evidence for one in swap.remarks),
            "caution_evidence": evidence_join(one.evidence for one in swap.cautions),
        }
    return found
