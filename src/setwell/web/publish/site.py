"""All that is published: the folder as one file, feeds, tables, and shared cards."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from setwell.errors import InputError, NotFoundError
from setwell.services import tables_export
from setwell.services.publishing import publications, share
from setwell.services.publishing import site as sites
from setwell.web.publish.forms import AddressForm
from setwell.web.publish.share_door import shared_headers


@require_http_methods(["GET", "POST"])
def site_view(request: HttpRequest) -> HttpResponse:
    """Show every published card, and keep the address of the folder."""
    form = AddressForm(request.POST or None, initial={"address": publications.address_get()})
    if request.method == "POST" and form.is_valid():
        try:
            publications.address_save(address=form.cleaned_data["address"])
        except InputError as error:
            form.add_error("address", f"{error.message} {error.hint}".strip())
        else:
            messages.success(request, "The address is kept.")
            return redirect("site_view")
    pages = publications.publication_list()
    context = {
        "form": form,
        "pages": pages,
        "is_too_many": len(pages) > sites.ZIP_MOST,
        "tables": tables_export.table_list(),
    }
    return render(request, "publish/site.html", context)


@require_safe
def site_zip(_request: HttpRequest) -> HttpResponse:
    """Give the folder as one file."""
    return _file(sites.site_zip(), "application/zip", "site.zip")


@require_safe
def tables_xlsx(_request: HttpRequest) -> HttpResponse:
    """Give every table as one workbook."""
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    return _file(tables_export.tables_xlsx(), kind, "kitchen.xlsx")


@require_safe
def table_csv(_request: HttpRequest, key: str) -> HttpResponse:
    """Give one table as CSV."""
    return _file(tables_export.table_csv(key=key), "text/csv; charset=utf-8", f"{key}.csv")


@require_safe
def shared_view(_request: HttpRequest, token: str) -> HttpResponse:
    """Show a shared card on this machine, just as others see it."""
    try:
        response = HttpResponse(share.share_page(token=token))
    except NotFoundError as error:
        hint = "A link that ended or was revoked shows nothing. Make a new one under Publish."
        raise NotFoundError(error.message, hint=hint) from error
    for name, value in shared_headers():
        response[name] = value
    return response


def _file(content: bytes | str, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
