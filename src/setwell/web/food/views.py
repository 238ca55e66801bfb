"""Search the foods and show where every number of one comes from."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.services import catalog


@require_safe
def food_list(request: HttpRequest) -> HttpResponse:
    """Find foods by name."""
    search = request.GET.get("search", "")[:120]
    context = {"foods": catalog.foods_search(search=search, limit=60), "search": search}
    is_part = request.htmx and request.htmx.target == "found"  # type: ignore[attr-defined]
    return render(request, "food/_found.html" if is_part else "food/list.html", context)


@require_safe
def food_view(request: HttpRequest, key: str) -> HttpResponse:
    """Show one food with the origin of every number."""
    return render(request, "food/view.html", {"food": catalog.food_detail(key=key)})
