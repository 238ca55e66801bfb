"""Addresses of table foods."""

from django.urls import path

from setwell.web.food import views

urlpatterns = [
    path("", views.food_list, name="food_list"),
    path("<str:key>/", views.food_view, name="food_view"),
]
