"""From a file's columns to our variables and units."""

from sheafwright.feeds.weather.variables import inside


def column_values(table, columns, missing=(), trace=None):
    """Each mapped column that a table has, in our unit: {variable: (row,)}.

    Parameters
    ----------
    columns : mapping of str to (str, str)
        The file's name to our variable and the unit it is in.
    missing : collection of str
        Codes that stand for missing, beside a blank.
    trace : mapping of str to float, optional
        The file's name to its code for "some, too little to measure".
    """
    values = {}
    for name in filter(table.heading.__contains__, columns):
        variable, unit = columns[name]
        numbers = table.numbers(name, missing)
        if trace and name in trace:
            # Others write such a day as 0.0: no rain must mean the same everywhere.
            numbers[numbers == trace[name]] = 0.0
        values[variable] = inside(variable, unit, numbers, table.text.name)
    return values
