"""Writing: one address a kind of entry, through the service that its page uses."""

from uuid import UUID

from django.http import Http404
from ninja import Schema

from sheafwright.web.api.door import REFUSALS, door, member
from sheafwright.web.api.kinds import API_KINDS, MORE, THINGS, outturn
from sheafwright.web.api.schemas import to_send


class Written(Schema):
    id: UUID


def _writer(name, kind):
    is_part = bool(kind.corrects)
    schema = to_send(
        f"{_camel(name)}ToSend", kind.model, kind.fields, MORE.get(name, {}), is_part
    )

    def write(request, slug: str, said: schema):
        membership = member(request, slug, kind.right)
        return kind.write(
            holding=membership.holding,
            made_by=membership.person,
            **_with_things(membership.holding, kind, said.dict(exclude_unset=is_part)),
        )

    return write


def _with_things(holding, kind, said):
    """What was sent, with the holding's own things in place of their ids."""
    if "outturn" in said:
        said["outturn"] = outturn(said["outturn"])
    for name, value in said.items():
        thing = _thing(kind, name)
        if thing is not None and value is not None:
            said[name] = _ours(thing, holding, value)
    return said


def _thing(kind, name):
    if name in THINGS:
        return THINGS[name]
    if name not in kind.fields:
        return None
    return kind.model._meta.get_field(name).related_model


def _ours(model, holding, id):
    found = model.objects.filter(holding=holding, pk=id).first()
    if found is None:
        raise Http404
    return found


def _camel(name):
    return "".join(part.capitalize() for part in name.split("-"))


for name, kind in API_KINDS.items():
    door.post(
        f"/{{slug:slug}}/{name}/",
        response={200: Written, **REFUSALS},
        operation_id=f"write_{name.replace('-', '_')}",
        summary=str(kind.title),
    )(_writer(name, kind))
