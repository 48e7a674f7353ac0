"""The demo's first field, asked about as a person would."""

import pytest
from click.testing import CliRunner

from sheafwright.cli import main
from sheafwright.feeds.holding import demo_holding


@pytest.fixture(scope="session")
def record():
    """Options that name the demo's weather record."""
    holding = demo_holding()
    return "--weather", holding.weather, "--columns", holding.columns


@pytest.fixture(scope="session")
def kiln_ground(record):
    """Options of a question about the demo's first field."""
    sowing = ("--sown", "2024-10-10", "--as-of", "2025-08-07")
    return *record, *sowing, "--seen", "flowering=2025-06-19"


@pytest.fixture(scope="session")
def say():
    """What a command prints, given that it succeeds."""

    def say(*arguments):
        result = CliRunner().invoke(main.cli, [str(each) for each in arguments])
        assert result.exit_code == 0, result.output
        return result.stdout

    return say


@pytest.fixture
def refuse(monkeypatch, capsys):
    """The one sentence of a command that is refused, with exit code 2."""

    def refuse(*arguments):
        monkeypatch.setattr("sys.argv", ["sheafwright", *map(str, arguments)])
        with pytest.raises(SystemExit) as stop:
            main.main()
        assert stop.value.code == 2
        out, err = capsys.readouterr()
        assert (out, err.count("\n")) == ("", 1)
        assert err.startswith("sheafwright: ")
        return err

    return refuse
