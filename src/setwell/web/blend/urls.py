"""Addresses of the blend explorer."""

from django.urls import path

from setwell.web.blend import views

urlpatterns = [path("", views.blend_view, name="blend_view")]
