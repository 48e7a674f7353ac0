"""A page as sections under one answer: web/sheet.html draws it."""

import dataclasses

from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode

from sheafwright.feeds.telling import first_sentence, joined
from sheafwright.web.forms.kinds import KINDS
from sheafwright.web.tables import Table


@dataclasses.dataclass(frozen=True)
class Action:
    """A button."""

    says: str
    url: str


@dataclasses.dataclass(frozen=True)
class Fold:
    """What stands behind a summary."""

    summary: str
    sentences: tuple[str, ...] = ()
    action: Action | None = None


@dataclasses.dataclass(frozen=True)
class Section:
    heading: str = ""
    sentence: str = ""
    is_danger: bool = False
    care: tuple[str, ...] = ()
    year: tuple = ()
    drawing: str = ""
    """An SVG that we drew ourselves, to stand in the page."""
    table: Table | None = None
    folded: str = ""
    """Summary that the table stands behind, if it is long."""
    more: tuple[str, ...] = ()
    """Further sentences, each for itself."""
    fold: Fold | None = None
    quick: object = None
    """A `Quick` form of one tap."""
    actions: tuple[Action, ...] = ()
    working: tuple = ()
    made_at: object = None


@dataclasses.dataclass(frozen=True)
class Quick:
    """One hidden entry and a button for each of some values of one field."""

    summary: str
    url: str
    hidden: dict
    name: str
    choices: tuple[tuple[str, str], ...]


@dataclasses.dataclass(frozen=True)
class Sheet:
    title: str
    answer: str
    odds: str = ""
    sections: tuple[Section, ...] = ()

    @property
    def swaps(self):
        """Whether a tap on it answers in place."""
        return any(section.quick for section in self.sections)


def sheet(request, said):
    return render(request, "web/sheet.html", {"sheet": said})


def first_sentences(said, most):
    """The first sentences of what was said, and the rest."""
    firsts = []
    while said and len(firsts) < most:
        first, said = first_sentence(said)
        firsts.append(first)
    return joined(*firsts), said


def write_action(request, kind, /, says=None, **given):
    """A button to the form of a kind of entry; nothing for who may not write it."""
    return entry_action(request.membership, kind, says, **given)


def entry_action(membership, kind, /, says=None, **given):
    """As `write_action`, of whoever asks."""
    what = KINDS[kind]
    if not membership.may(what.right):
        return ()
    url = reverse("web:write", args=[membership.holding.slug, kind])
    query = f"?{urlencode(given)}" if given else ""
    return (Action(says or what.title, url + query),)
