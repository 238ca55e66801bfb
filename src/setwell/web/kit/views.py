"""The page of dry kits, and its packing sheet as PDF."""

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from setwell.errors import InputError
from setwell.services import formulas
from setwell.services.cards import is_this_computer
from setwell.services.kits import KitAnswer, KitPaper, kit_pdf, kit_view, packable_lines
from setwell.services.publishing.publications import address_of_page
from setwell.web.kit.forms import KitForm
from setwell.web.process.asking import version_number


@require_safe
def kit_page(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the kits of a version; the address holds all that was asked."""
    form, answer, number = _asked(request, formula_id)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "form": form,
        "number": number,
        "answer": answer,
        "query": request.GET.urlencode(),
    }
    if answer is not None:
        label = answer.sheet.label
        # Drawn by us from squares; the address itself is not in it.
        context["qr"] = mark_safe(label.qr)  # noqa: S308
        context["is_this_computer"] = is_this_computer(label.address)
    return render(request, "kit/view.html", context)


@require_safe
def kit_sheet(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Send the packing sheet with its labels; what cannot be packed leads back to the form."""
    form, answer, number = _asked(request, formula_id)
    if answer is None:
        summary = formulas.formula_get(formula_id=formula_id)
        context = {"summary": summary, "form": form, "number": number, "answer": None}
        return render(request, "kit/view.html", context, status=422)
    paper = cast("KitPaper", form.cleaned_data["paper"] or "A4")
    made = kit_pdf(sheet=answer.sheet, paper=paper)
    name = f'inline; filename="packing-sheet-{formula_id}.pdf"'
    headers = {"Content-Disposition": name}
    return HttpResponse(made, content_type="application/pdf", headers=headers)


def _asked(request: HttpRequest, formula_id: int) -> tuple[KitForm, KitAnswer | None, int | None]:
    number = version_number(request.GET.get("version", ""))
    form = KitForm(request.GET, packable_lines(formula_id=formula_id, number=number))
    if not form.is_valid():
        return form, None, number
    shown = number or formulas.formula_get(formula_id=formula_id).head_number
    public = address_of_page(formula_id=formula_id, number=shown)
    here = public or request.build_absolute_uri(reverse("card_view", args=[formula_id]))
    try:
        answer = kit_view(
            formula_id=formula_id, number=number, ask=form.ask,
            readability_g=form.cleaned_data["readability_g"],
            address=form.cleaned_data["address"] or here,
        )  # fmt: skip
    except InputError as error:
        form.refuse(error)
        return form, None, number
    return form, answer, number
