"""How liquids flow: dose, shear, temperature, sugar and crowding, and what a bench test reads."""
