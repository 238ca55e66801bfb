"""What is known of formulas and their versions: typed, read-only."""

import datetime as dt
from dataclasses import dataclass

from setwell.domain.formula import Formula, Goal


@dataclass(frozen=True, slots=True)
class FormulaSummary:
    """One formula as a list shows it; title, goal and headline are those of its newest version."""

    id: int
    title: str
    version_count: int
    head_number: int
    head_hash: str
    saved_at: dt.datetime
    archived: bool
    goal: Goal
    headline: str


@dataclass(frozen=True, slots=True)
class VersionSummary:
    """One version as a history shows it."""

    formula_id: int
    number: int
    hash: str
    title: str
    saved_at: dt.datetime
    note: str
    parent_number: int | None
    is_head: bool


@dataclass(frozen=True, slots=True)
class VersionDetail:
    """One version with its document."""

    summary: VersionSummary
    formula: Formula


@dataclass(frozen=True, slots=True)
class SavedVersion:
    """What saving did.

    `overtaken_by` names the newest version when somebody saved one after the version that
    this work started from; both are kept.
    """

    formula_id: int
    number: int
    hash: str
    was_unchanged: bool
    overtaken_by: int | None
