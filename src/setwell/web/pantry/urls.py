"""Addresses of the pantry: one set for every shelf."""

from django.urls import path, register_converter

from setwell.web.pantry import exchange, lot_checks, views
from setwell.web.pantry.shelves import SHELVES, Shelf, shelf_find


class ShelfConverter:
    """A shelf by its plural word in the address."""

    regex = "|".join(shelf.slug for shelf in SHELVES)

    def to_python(self, value: str) -> Shelf:
        """Return the shelf."""
        return shelf_find(value)

    def to_url(self, value: Shelf | str) -> str:
        """Return the word."""
        return value if isinstance(value, str) else value.slug


register_converter(ShelfConverter, "shelf")

urlpatterns = [
    path("", views.pantry_home, name="pantry_home"),
    path("<shelf:shelf>/", views.pantry_list, name="pantry_list"),
    path("<shelf:shelf>/new/", views.pantry_add, name="pantry_add"),
    path("<shelf:shelf>/<int:row_id>/", views.pantry_edit, name="pantry_edit"),
    path("<shelf:shelf>/<int:row_id>/delete/", views.pantry_delete, name="pantry_delete"),
    path("lots/<int:row_id>/strength/", lot_checks.lot_view, name="lot_view"),
    path("lots/<int:row_id>/strength/<slug:test>/", lot_checks.lot_test, name="lot_test"),
    path("<shelf:shelf>/export.csv", exchange.pantry_export, name="pantry_export"),
    path("<shelf:shelf>/import/", exchange.pantry_import, name="pantry_import"),
]
