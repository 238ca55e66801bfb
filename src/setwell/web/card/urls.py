"""Addresses of the card; they stand under one formula."""

from django.urls import path

from setwell.web.card import views

urlpatterns = [
    path("", views.card_view, name="card_view"),
    path("card.pdf", views.card_pdf, name="card_pdf"),
    path("card.txt", views.card_text, name="card_text"),
]
