"""Publish one formula, take it back, and share one version by a link."""

from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from setwell.errors import InputError
from setwell.services import formulas
from setwell.services.publishing import publications, share, site
from setwell.web.publish.forms import RemarkForm, ShareForm, WithdrawForm


@require_http_methods(["GET", "POST"])
def publish_view(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show what is published of a formula; publish its newest version."""
    form = RemarkForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            page = publications.card_publish(
                formula_id=formula_id, remark=form.cleaned_data["remark"]
            )
        except InputError as error:
            _told(form, error)
        else:
            messages.success(request, f"Published: version {page.newest.number}.")
            return redirect("publish_view", formula_id=formula_id)
    return _page(request, formula_id, remark_form=form)


@require_POST
def publish_withdraw(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Take the page back; the next folder holds a note in its place."""
    form = WithdrawForm(request.POST)
    if form.is_valid():
        try:
            publications.card_withdraw(formula_id=formula_id, **form.cleaned_data)
        except InputError as error:
            _told(form, error)
        else:
            kept = "" if form.cleaned_data["keeps_links"] else " Its links are revoked."
            told = f"Withdrawn. Write the folder again to take it off the web.{kept}"
            messages.success(request, told)
            return redirect("publish_view", formula_id=formula_id)
    return _page(request, formula_id, withdraw_form=form)


@require_POST
def share_add(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Make a link to the newest version."""
    form = ShareForm(request.POST, auto_id="share_%s")
    if form.is_valid():
        try:
            share.share_create(
                formula_id=formula_id,
                days=form.cleaned_data["days"],
                note=form.cleaned_data["note"],
            )
        except InputError as error:
            _told(form, error)
        else:
            messages.success(request, "The link is made: copy it from the list below.")
            return redirect("publish_view", formula_id=formula_id)
    return _page(request, formula_id, share_form=form)


@require_POST
def share_revoke(request: HttpRequest, formula_id: int, link_id: int) -> HttpResponse:
    """End a link at once."""
    share.share_revoke(formula_id=formula_id, link_id=link_id)
    messages.success(request, "The link is revoked.")
    return redirect("publish_view", formula_id=formula_id)


def _told(form: Form, error: InputError) -> None:
    name = error.field if error.field in form.fields else None
    form.add_error(name, f"{error.message} {error.hint}".strip())


def _here(request: HttpRequest, token: str) -> str:
    return request.build_absolute_uri(reverse("shared_view", args=[token]))


def _page(
    request: HttpRequest,
    formula_id: int,
    *,
    remark_form: Form | None = None,
    withdraw_form: Form | None = None,
    share_form: Form | None = None,
) -> HttpResponse:
    links = share.share_list(formula_id=formula_id)
    refused = next((one for one in (remark_form, withdraw_form, share_form) if one), None)
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "state": publications.publish_state(formula_id=formula_id),
        "form": refused,
        "remark_form": remark_form or RemarkForm(),
        "withdraw_form": withdraw_form or WithdrawForm(),
        "share_form": share_form or ShareForm(initial={"days": 30}, auto_id="share_%s"),
        "links": [(link, share.share_is_open(link), _here(request, link.token)) for link in links],
        "snippet": site.snippet_of(formula_id=formula_id),
    }
    return render(request, "publish/view.html", context)
