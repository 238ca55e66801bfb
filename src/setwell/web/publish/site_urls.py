"""Addresses of all that is published, and of every table as a file."""

from django.urls import path

from setwell.web.publish import site

urlpatterns = [
    path("", site.site_view, name="site_view"),
    path("site.zip", site.site_zip, name="site_zip"),
    path("tables.xlsx", site.tables_xlsx, name="tables_xlsx"),
    path("tables/<slug:key>.csv", site.table_csv, name="table_csv"),
]
