"""Addresses of formulas."""

from django.urls import path

from setwell.web.formula import exchange, views

urlpatterns = [
    path("", views.formula_list, name="formula_list"),
    path("new/", views.formula_new, name="formula_new"),
    path("preview/", views.formula_preview, name="formula_preview"),
    path("import/", exchange.formula_import, name="formula_import"),
    path("schema.json", exchange.formula_schema, name="formula_schema"),
    path("<int:formula_id>/", views.formula_edit, name="formula_edit"),
    path("<int:formula_id>/duplicate/", views.formula_duplicate, name="formula_duplicate"),
    path("<int:formula_id>/archive/", views.formula_archive, name="formula_archive"),
    path("<int:formula_id>/export.json", exchange.export_json, name="formula_export_json"),
    path("<int:formula_id>/export.txt", exchange.export_text, name="formula_export_text"),
]
