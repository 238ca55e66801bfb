"""The chart of texture agents side by side, and one page each."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.services import catalog

# What a kitchen reaches for first, and what fits on one sheet of paper.
FIRST_LOOK = (
    "kappa_carrageenan",
    "iota_carrageenan",
    "lambda_carrageenan",
    "agar",
    "gelatin",
    "xanthan",
)


@require_safe
def agent_chart(request: HttpRequest) -> HttpResponse:
    """Show the properties of the chosen agents, of six to begin with, or of all."""
    chosen = tuple(request.GET.getlist("agent"))[:60]
    is_all = "all" in request.GET
    context = {
        "chart": catalog.agents_chart(agents=None if is_all else chosen or FIRST_LOOK),
        "everything": catalog.agents_chart(agents=None),
        "chosen": () if is_all else chosen or FIRST_LOOK,
    }
    return render(request, "agent/chart.html", context)


@require_safe
def agent_view(request: HttpRequest, key: str) -> HttpResponse:
    """Show one agent with the origin of every figure."""
    return render(request, "agent/view.html", {"agent": catalog.agent_detail(key=key)})
