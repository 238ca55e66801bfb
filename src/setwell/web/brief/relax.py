"""From a relaxation to the form of a brief with those fields changed; nothing is saved by it."""

from dataclasses import dataclass

from django.urls import reverse

from setwell.errors import InputError
from setwell.services.briefs import brief_changed
from setwell.services.proposals import Proposals
from setwell.web.brief.asked import AskedBrief
from setwell.web.brief.sheet import brief_initial


@dataclass(frozen=True, slots=True)
class FormFields:
    """Where the form of a brief is, and what to post there to see it filled in."""

    address: str
    fields: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class WayOut:
    """A nearest feasible brief in a plain sentence; without fields it has to be typed."""

    text: str
    agents: str
    form: FormFields | None


def ways_out(found: Proposals, asked: AskedBrief) -> tuple[WayOut, ...]:
    """Return the relaxations of an answer, each with the brief it leads to."""
    ways = []
    for one in found.relaxations:
        try:
            changed = brief_changed(brief=asked.brief, changes=one.changes)
        except InputError:
            # The sentence still helps where a change cannot be filled in.
            changed = asked.brief
        is_filled = changed != asked.brief
        form = way_back(asked._replace(brief=changed)) if is_filled else None
        ways.append(WayOut(one.text, " + ".join(one.agents), form))
    return tuple(ways)


def way_back(asked: AskedBrief) -> FormFields:
    """Return the form of a brief as it stands here."""
    initial = brief_initial(asked.brief, brief_id=asked.brief_id, base_number=asked.base_number)
    fields: list[tuple[str, str]] = []
    for name, value in initial.items():
        values = value if isinstance(value, (list, tuple)) else [value]
        # A box that is not ticked is not sent.
        fields += [(name, str(one)) for one in values if one not in ("", None, False)]
    here = reverse("brief_new")
    if asked.brief_id is not None:
        here = reverse("brief_edit", args=[asked.brief_id])
    return FormFields(here, tuple(fields))
