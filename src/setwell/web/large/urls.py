"""Addresses of large batches; they stand under one formula."""

from django.urls import path

from setwell.web.large import views

urlpatterns = [
    path("", views.large_page, name="large_view"),
    path("shopping.csv", views.shopping_file, name="large_shopping"),
]
