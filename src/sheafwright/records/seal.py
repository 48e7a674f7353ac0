"""The seal that ties each movement to all before it."""

import hashlib
import json


def seal(movement, lines):
    """SHA-256 over the previous seal and everything the movement says. [hex]"""
    said = [
        movement.previous_seal,
        movement.seq,
        str(movement.id),
        str(movement.holding_id),
        str(movement.made_by_id),
        movement.kind,
        movement.date.isoformat(),
        _text(movement.subject),
        _text(movement.reverses_id),
        movement.note,
        movement.said_at,
        sorted(_line(line) for line in lines),
    ]
    return hashlib.sha256(
        json.dumps(said, ensure_ascii=False, separators=(",", ":")).encode()
    ).hexdigest()


def _line(line):
    moisture = None if line.moisture_pct is None else f"{line.moisture_pct:.1f}"
    return [
        str(line.id),
        str(line.place_id),
        line.grams,
        _text(moisture),
        bool(line.estimated),
    ]


def _text(value):
    return "" if value is None else str(value)
