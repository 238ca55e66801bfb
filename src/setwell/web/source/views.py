"""The page of every source and of what the grades mean."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.provenance import Grade
from setwell.services import sources


@require_safe
def source_list(request: HttpRequest) -> HttpResponse:
    """List every source with the tables that cite it."""
    context = {"sources": sources.source_list(), "grades": tuple(Grade)}
    return render(request, "source/list.html", context)
