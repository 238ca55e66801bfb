"""Addresses of the card; they stand under one formula."""

from django.urls import path

from setwell.web.card import photos, views

urlpatterns = [
    path("", views.card_view, name="card_view"),
    path("card.pdf", views.card_pdf, name="card_pdf"),
    path("card.txt", views.card_text, name="card_text"),
    path("photos/", photos.card_photos, name="card_photos"),
    path("photos/<int:photo_id>.jpg", photos.card_photo, name="card_photo"),
    path("photos/<int:photo_id>/remove/", photos.card_photo_remove, name="card_photo_remove"),
]
