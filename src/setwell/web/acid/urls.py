"""Addresses about the acid of one formula."""

from django.urls import path

from setwell.web.acid import views

urlpatterns = [path("", views.acid_view, name="acid_view")]
