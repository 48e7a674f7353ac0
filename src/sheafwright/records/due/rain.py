"""What rains in a usual year: nitrogen goes by it."""

from sheafwright.records.due import Due

KEPT = "rain"


def rain_due(source, common):
    asks = {name: common[name] for name in ("files", "tables", "engine", "as_of")}

    def answer(_folder):
        from sheafwright.answers.usual_rain import usual_rain

        columns = source.columns.path if source.columns else None
        return usual_rain(source.record.path, columns, common["as_of"]), None

    return Due(KEPT, source, asks, answer)
