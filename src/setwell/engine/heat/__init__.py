"""Pots that heat and molds that cool, from formula and equipment."""
