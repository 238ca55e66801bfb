"""Address of the page about other kitchens; it stands under one formula."""

from django.urls import path

from setwell.web.robustness import views

urlpatterns = [path("", views.strangers_view, name="strangers_view")]
