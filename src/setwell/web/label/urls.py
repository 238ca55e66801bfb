"""Addresses of the label; they stand under one formula."""

from django.urls import path

from setwell.web.label import views

urlpatterns = [
    path("", views.label_view, name="label_view"),
    path("keep/", views.label_keep, name="label_keep"),
    path("label.pdf", views.label_pdf, name="label_pdf"),
    path("label.txt", views.label_text, name="label_text"),
]
