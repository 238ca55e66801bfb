"""The chart of texture agents side by side, and one page each."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from setwell.services import catalog


@require_safe
def agent_chart(request: HttpRequest) -> HttpResponse:
    """Show the properties of the chosen agents, or of all."""
    chosen = tuple(request.GET.getlist("agent"))[:60]
    context = {
        "chart": catalog.agents_chart(agents=chosen or None),
        "everything": catalog.agents_chart(agents=None),
        "chosen": chosen,
    }
    return render(request, "agent/chart.html", context)


@require_safe
def agent_view(request: HttpRequest, key: str) -> HttpResponse:
    """Show one agent with the origin of every figure."""
    return render(request, "agent/view.html", {"agent": catalog.agent_detail(key=key)})
