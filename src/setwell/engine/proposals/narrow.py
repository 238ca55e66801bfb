"""What to say where hardly anything meets a brief: what comes next, and which wish bars it."""

from collections.abc import Collection

from setwell.engine.proposals.search import Found, Job
from setwell.engine.proposals.wish_windows import kept_text

# With fewer proposals than this a brief is narrow (our judgment).
FEW = 3
_TOLD = 2


def next_nearest(job: Job, found: Found, shown: Collection[frozenset[str]]) -> tuple[str, ...]:
    """Return in plain lines which other agents miss the fewest wishes, and which ones."""
    if len(shown) >= FEW:
        return ()
    keys = job.keys
    order = sorted(
        (int(mask).bit_count(), float(off), combo, int(mask))
        for mask, off, combo in zip(
            found.masks.tolist(), found.mask_off.tolist(), found.mask_combos.tolist(), strict=True
        )
        # What misses more than half of the wishes is near nothing.
        if 0 < 2 * int(mask).bit_count() <= len(job.wishes)
    )
    told: list[str] = []
    used = set(shown)
    for _, _, combo, mask in order:
        places = [n for n in combo if n >= 0]
        agents = frozenset(keys[n] for n in places)
        # A set that holds one already told says nothing new.
        if any(one <= agents for one in used):
            continue
        used.add(agents)
        names = " with ".join(job.tables[n].agent.name for n in places)
        told.append(f"Next nearest: {names} keeps {kept_text(job.wishes, mask)}.")
        if len(told) == _TOLD:
            break
    return tuple(told)
