"""A walk through the book, drawn and listed."""

from django.utils.translation import gettext as _

from sheafwright.charts.walk import Edge, walk_svg
from sheafwright.records import wording
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import grams


def walk_section(request, walk, title, chosen=None):
    """A section with a walk of the book."""
    if not walk.went:
        return Section(heading=title, sentence=wording.nothing_moved())
    names = {node.id: node.name for node in walk.nodes}
    weights = [_weight(went, request.user.units) for went in walk.went]
    edges = [
        Edge(went.start, went.end, weight)
        for went, weight in zip(walk.went, weights, strict=True)
    ]
    columns = (Column(_("From")), Column(_("To")), Column(_("Weight"), True))
    rows = tuple((names[e.start], names[e.end], e.weight) for e in edges)
    return Section(
        heading=title,
        drawing=walk_svg(walk.nodes, edges, title=title, chosen=chosen),
        table=Table(columns, rows),
    )


def _weight(went, units):
    return "" if went.grams is None else grams(went.grams, units)
