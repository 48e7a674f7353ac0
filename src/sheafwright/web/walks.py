"""A walk through the book, drawn and listed."""

from django.utils.translation import gettext as _

from sheafwright.charts.walk import walk_svg
from sheafwright.records import wording
from sheafwright.web.sheets import Section
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import kg


def walk_section(request, walk, title, chosen=None):
    if not walk.edges:
        return Section(heading=title, sentence=wording.nothing_moved())
    names = {node.id: node.name for node in walk.nodes}
    columns = (Column(_("From")), Column(_("To")), Column(_("Weight"), True))
    rows = tuple(
        (names[edge.begins], names[edge.ends], kg(edge.kg, request.user.units))
        for edge in walk.edges
    )
    return Section(
        heading=title,
        drawing=walk_svg(walk.nodes, walk.edges, title=title, chosen=chosen),
        table=Table(columns, rows),
    )
