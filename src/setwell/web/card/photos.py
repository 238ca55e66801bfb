"""Photos for a card: put one, look at them, take one away."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from setwell.errors import InputError
from setwell.services import formulas, photos
from setwell.web.card.forms import PhotoForm


@require_http_methods(["GET", "HEAD", "POST"])
def card_photos(request: HttpRequest, formula_id: int) -> HttpResponse:
    """Show the places for photos, and keep one that is sent."""
    placed = photos.photos_placed(formula_id=formula_id)
    if request.method != "POST":
        form = PhotoForm(places=placed.places, initial={"step": request.GET.get("step", "0")})
        return _page(request, formula_id, placed, form)
    form = PhotoForm(request.POST, request.FILES, places=placed.places)
    if form.is_valid() and _kept(form, formula_id):
        messages.success(request, "The photo is on the card.")
        return redirect("card_photos", formula_id=formula_id)
    return _page(request, formula_id, placed, form, status=400)


@require_safe
def card_photo(request: HttpRequest, formula_id: int, photo_id: int) -> HttpResponse:  # noqa: ARG001
    """Give the picture; it never changes, as a new one has a new address."""
    picture = photos.picture_get(formula_id=formula_id, id=photo_id)
    response = HttpResponse(picture, content_type="image/jpeg")
    response["Cache-Control"] = "private, max-age=31536000, immutable"
    return response


@require_POST
def card_photo_remove(request: HttpRequest, formula_id: int, photo_id: int) -> HttpResponse:
    """Delete a photo."""
    photos.photo_remove(formula_id=formula_id, id=photo_id)
    messages.success(request, "The photo is gone.")
    return redirect("card_photos", formula_id=formula_id)


def _kept(form: PhotoForm, formula_id: int) -> bool:
    values = form.cleaned_data
    file = values["file"]
    try:
        photos.photo_put(
            formula_id=formula_id,
            step=values["step"],
            data=file.read(),
            name=file.name or "",
            caption=values["caption"],
        )
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.message} {error.hint}".strip())
        return False
    return True


def _page(
    request: HttpRequest,
    formula_id: int,
    placed: photos.PlacedPhotos,
    form: PhotoForm,
    *,
    status: int = 200,
) -> HttpResponse:
    context = {
        "summary": formulas.formula_get(formula_id=formula_id),
        "placed": placed,
        "form": form,
    }
    return render(request, "card/photos.html", context, status=status)
