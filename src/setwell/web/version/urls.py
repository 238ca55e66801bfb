"""Addresses of versions; all stand under one formula."""

from django.urls import path

from setwell.web.version import readings, scaling, texture_readings, views

urlpatterns = [
    path("history/", views.version_history, name="version_history"),
    path("compare/", views.version_compare, name="version_compare"),
    path("versions/<int:number>/", views.version_view, name="version_view"),
    path("versions/<int:number>/reading/", readings.reading_record, name="reading_record"),
    path(
        "versions/<int:number>/texture-readings/",
        texture_readings.texture_readings,
        name="texture_readings",
    ),
    path("readings/<int:reading_id>/delete/", readings.reading_delete, name="reading_delete"),
    path("scale/", scaling.formula_scale, name="formula_scale"),
]
