"""Addresses about the texture of one formula."""

from django.urls import path

from setwell.web.texture import views

urlpatterns = [path("", views.texture_view, name="texture_view")]
