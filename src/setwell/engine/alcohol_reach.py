"""How much alcohol the laws of texture reach to: above it nothing is known of most agents."""

# From here on powders dissolve slowly and gels come out weaker, nobody here knows by how much;
# beyond the second no law is trusted [% by volume] (our judgment, from where gels begin to weaken
# or drop out: 20 to 40 %).
UNSURE_ABV, NO_LAW_ABV = 10.0, 20.0
# Their own law has a limit of alcohol.
_OWN_LIMIT = frozenset({"gelatin", "gelatin_fish_cold"})


def is_beyond_laws(key: str, alcohol_by_volume: float) -> bool:
    """Return whether no law tells what an agent does in so much alcohol."""
    return alcohol_by_volume > NO_LAW_ABV and key not in _OWN_LIMIT


def is_unsure(key: str, alcohol_by_volume: float) -> bool:
    """Return whether an agent may be weaker in so much alcohol than its law says."""
    return alcohol_by_volume > UNSURE_ABV and key not in _OWN_LIMIT
