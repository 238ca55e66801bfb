"""Home, settings, look and limits."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import trigger_client_event

from setwell.errors import InputError
from setwell.services import kitchen as kitchens
from setwell.web.kitchen.forms import KitchenForm, kitchen_initial
from setwell.web.look import look_keep


@require_safe
def kitchen_home(request: HttpRequest) -> HttpResponse:
    """Show what is in work."""
    return render(request, "kitchen/home.html", {"home": kitchens.kitchen_home()})


@require_http_methods(["GET", "POST"])
def kitchen_settings(request: HttpRequest) -> HttpResponse:
    """Show and save the kitchen's settings."""
    if request.method == "GET":
        stored = kitchens.kitchen_settings_get()
        form = KitchenForm(initial=kitchen_initial(stored))
        return render(request, "kitchen/settings.html", {"form": form})
    form = KitchenForm(request.POST)
    if form.is_valid() and form.kitchen:
        try:
            kitchens.kitchen_settings_save(kitchen=form.kitchen)
        except InputError as error:
            form.add_error(error.field if error.field in form.fields else None, error.message)
        else:
            messages.success(request, "Settings saved.")
            return redirect("kitchen_settings")
    return render(request, "kitchen/settings.html", {"form": form})


@require_POST
def kitchen_look(request: HttpRequest) -> HttpResponse:
    """Keep the chosen look and go back to where it was chosen."""
    chosen = request.POST.get("look", "")
    if request.htmx:  # type: ignore[attr-defined]
        answer = HttpResponse(status=204)
        trigger_client_event(answer, "lookChanged", {"look": chosen})
        return look_keep(answer, chosen)
    back = request.POST.get("back", "/")
    is_ours = back.startswith("/") and url_has_allowed_host_and_scheme(back, allowed_hosts=None)
    return look_keep(redirect(back if is_ours else "kitchen_home"), chosen)


@require_safe
def kitchen_limits(request: HttpRequest) -> HttpResponse:
    """Say what this tool cannot tell."""
    return render(request, "kitchen/limits.html")
