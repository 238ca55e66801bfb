"""Addresses of versions; all stand under one formula."""

from django.urls import path

from setwell.web.version import scaling, views

urlpatterns = [
    path("history/", views.version_history, name="version_history"),
    path("compare/", views.version_compare, name="version_compare"),
    path("versions/<int:number>/", views.version_view, name="version_view"),
    path("scale/", scaling.formula_scale, name="formula_scale"),
]
