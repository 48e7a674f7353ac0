"""A described roof as papers and pages tell of it in short."""

from django.utils.translation import gettext as _

from sheafwright.answers.roof import roof
from sheafwright.feeds.roof import roof_question
from sheafwright.records.wording import listed


def answer_of(plan):
    """The `RoofAnswer` of a roof that was kept as it was described."""
    return roof(roof_question(plan, _("The roof")))


def plan_of(order):
    """The roof that an order says, or that it was first asked about; else None."""
    asked = order.quotation.enquiry.roof_plan if order.quotation else None
    return order.roof_plan or asked


def sizes_of(plan):
    """What a paper keeps of it: sizes by the names of the answer's JSON."""
    if not plan:
        return None
    answer = answer_of(plan)
    said, kept = answer.to_json(), ("area_m2", "ridge_m", "hips_m", "valleys_m")
    sizes = {name: round(said[name], 1) for name in kept}
    return sizes | {"squares": round(answer.shape.squares, 1)}


def sizes_told(sizes):
    """Those sizes in words; nothing of no roof."""
    if not sizes:
        return ""
    lines = {"ridge_m": _("ridge"), "hips_m": _("hips"), "valleys_m": _("valleys")}
    parts = [
        _("%(metres)s m of %(line)s") % {"metres": sizes[name], "line": line}
        for name, line in lines.items()
        if sizes.get(name)
    ]
    area = _("%(area)s m² (%(squares)s squares)") % {
        "area": sizes["area_m2"],
        "squares": sizes["squares"],
    }
    return listed([area, *parts])
