"""Pages to list, add, change and delete what is on a shelf."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from setwell.errors import ConflictError, InputError, UnknownNameError
from setwell.services import catalog, pantry
from setwell.web.pantry.forms import ShelfForm
from setwell.web.pantry.shelves import SHELVES, Shelf


@require_safe
def pantry_home(request: HttpRequest) -> HttpResponse:  # noqa: ARG001
    """Go to the first shelf."""
    return redirect("pantry_list", SHELVES[0])


@require_safe
def pantry_list(request: HttpRequest, shelf: Shelf) -> HttpResponse:
    """List what is on a shelf."""
    return render(request, "pantry/list.html", _context(shelf, rows=shelf.rows()))


@require_http_methods(["GET", "POST"])
def pantry_add(request: HttpRequest, shelf: Shelf) -> HttpResponse:
    """Add one thing; a food may start as a copy of a table food."""
    if request.method == "GET":
        copied = request.GET.get("copy", "")
        is_copy = shelf.entity == "food" and copied
        initial = shelf.form.initial_of(pantry.food_copy(key=copied)) if is_copy else {}
        return _form_page(request, shelf, shelf.form(initial=initial), None)
    form = shelf.form(request.POST)
    return _saved(request, shelf, form, None) or _form_page(request, shelf, form, None)


@require_http_methods(["GET", "POST"])
def pantry_edit(request: HttpRequest, shelf: Shelf, row_id: int) -> HttpResponse:
    """Change one thing."""
    row = shelf.get(row_id)
    if request.method == "GET":
        form = shelf.form(initial=shelf.form.initial_of(row.document))
        return _form_page(request, shelf, form, row_id)
    form = shelf.form(request.POST)
    return _saved(request, shelf, form, row_id) or _form_page(request, shelf, form, row_id)


@require_http_methods(["GET", "POST"])
def pantry_delete(request: HttpRequest, shelf: Shelf, row_id: int) -> HttpResponse:
    """Ask, then delete one thing."""
    name = shelf.name_of(shelf.get(row_id).document)
    if request.method == "GET":
        return render(request, "pantry/delete.html", _context(shelf, name=name, row_id=row_id))
    shelf.delete(id=row_id)
    messages.success(request, f"Deleted: {name}.")
    return redirect("pantry_list", shelf)


def _saved(
    request: HttpRequest, shelf: Shelf, form: ShelfForm, row_id: int | None
) -> HttpResponse | None:
    """Save what the form holds and go to the list, or leave the reason in the form."""
    if not form.is_valid() or form.document is None:
        return None
    try:
        shelf.save(id=row_id, document=form.document)
    except UnknownNameError as error:
        nearest = f" Did you mean {', '.join(error.nearest)}?" if error.nearest else ""
        form.refuse(error.field, f"{error.message}{nearest}")
        return None
    except InputError as error:
        form.refuse(error.field, f"{error.message} {error.hint}".strip())
        return None
    except ConflictError as error:
        form.refuse("", f"{error.message} {error.hint}".strip())
        return None
    messages.success(request, f"Saved: {shelf.name_of(form.document)}.")
    return redirect("pantry_list", shelf)


def _form_page(
    request: HttpRequest, shelf: Shelf, form: ShelfForm, row_id: int | None
) -> HttpResponse:
    context = _context(shelf, form=form, row_id=row_id, agent_names=_agent_names(shelf))
    return render(request, "pantry/form.html", context)


def _agent_names(shelf: Shelf) -> tuple[str, ...]:
    """Return the names to offer where an agent is asked for."""
    if shelf.entity not in {"agent", "lot"}:
        return ()
    charted = tuple(column.name for column in catalog.agents_chart(agents=None).columns)
    own = tuple(row.document.name for row in pantry.agent_list()) if shelf.entity == "lot" else ()
    return (*own, *charted)


def _context(shelf: Shelf, **more: object) -> dict[str, object]:
    return {"shelf": shelf, "shelves": SHELVES, **more}
