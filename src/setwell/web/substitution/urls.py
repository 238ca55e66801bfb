"""Addresses of substitutions; all stand under one formula."""

from django.urls import path

from setwell.web.substitution import views

urlpatterns = [path("", views.substitute_view, name="substitute_view")]
