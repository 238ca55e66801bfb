"""Addresses of briefs."""

from django.urls import include, path

from setwell.web.brief import exchange, views

urlpatterns = [
    path("", views.brief_list, name="brief_list"),
    path("new/", views.brief_new, name="brief_new"),
    path("check/", views.brief_check, name="brief_check"),
    path("shelf/", views.brief_shelf, name="brief_shelf"),
    path("", include("setwell.web.brief.results_urls")),
    path("import/", exchange.brief_import, name="brief_import"),
    path("<int:brief_id>/", views.brief_edit, name="brief_edit"),
    path("<int:brief_id>/versions/", views.brief_versions, name="brief_versions"),
    path("<int:brief_id>/put-away/", views.brief_put_away, name="brief_put_away"),
    path("<int:brief_id>/export.json", exchange.brief_export, name="brief_export"),
]
