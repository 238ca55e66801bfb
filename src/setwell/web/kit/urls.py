"""Addresses of dry kits; they stand under one formula."""

from django.urls import path

from setwell.web.kit import views

urlpatterns = [
    path("", views.kit_page, name="kit_view"),
    path("sheet.pdf", views.kit_sheet, name="kit_sheet"),
]
