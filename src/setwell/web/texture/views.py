"""The page that shows all versions of a formula on one texture map."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from setwell.services import formulas
from setwell.services.texture_map import formula_textures


@require_safe
def texture_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show where each version breaks, computed with today's pantry, and what was measured."""
    found = formula_textures(formula_id=formula_id)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "found": found,
        # Our own drawing: names in it are escaped where it is made.
        "drawing": mark_safe(found.svg),  # noqa: S308
    }
    return render(request, "texture/view.html", context)
