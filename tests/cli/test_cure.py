"""``formwork cure`` from outside."""

from __future__ import annotations

import subprocess
import sys

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run


@pytest.fixture
def cure(capsys):
    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, ["cure", *arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, " ".join(said.out.split()), " ".join(said.err.split())

    return call


def test_the_charts_example(cure):
    # ACI 305R chart: about 0.25 lb/ft2/h. Over 0.10 cellular concrete is not poured in the open.
    status, out, err = cure("--air", "80 F", "--concrete", "87 F", "--humidity", "50 %", "--wind", "12 mph")
    assert (status, err) == (1, "")
    assert "Evaporation: 0.243 lb/ft2 an hour (limits for cellular concrete: 0.05 lb/ft2 an hour, 0.1" in out
    assert "windbreak, shade, film at once" in out and "40 %" in out


def test_mild_weather_asks_for_nothing(cure):
    status, out, _ = cure("--air", "18 C", "--humidity", "90 %", "--wind", "0")
    assert status == 0 and "cover as usual" in out
    assert "strip sturdy pieces, earliest (24 h at 20 C, 68 F)" in out


def test_cellular_is_never_given_the_times_of_ordinary_concrete(cure):
    status, cellular, _ = cure("--air", "20 C")
    assert status == 0 and "48 h" in cellular and "12 h" not in cellular and "C1074" in cellular
    _, ordinary, _ = cure("--air", "20 C", "--ordinary")
    assert "ACI 347R-94, as quoted) 12 h" in ordinary


def test_heat_and_frost_must_be_dealt_with(cure):
    status, out, _ = cure("--air", "100 F", "--concrete", "98 F")
    assert status == 1 and "hotter than 95 F" in out and "takes --humidity and --wind" in out
    status, out, _ = cure("--air", "-1 C")
    assert status == 1 and "FROST at once" in out and "not at these temperatures" in out


def test_a_loggers_hours(cure, tmp_path):
    rows = "\n".join(f"{hour},{20 - 8 * (hour == 30)}" for hour in range(60))
    (tmp_path / "h.csv").write_text(f"hours,temp C\n{rows}\n")
    # 57 h at 20 C, and 2 h at a mean of 16 C worth exp(-5000*(1/289.15 - 1/293.15)) = 0.79 each.
    status, out, _ = cure("--hours", str(tmp_path / "h.csv"))
    assert status == 0 and "59 h of temperatures, worth 58.6 h at 20 C" in out
    assert "cooled by up to 4.0 C within an hour" in out


def test_a_surface_that_sinks(cure):
    status, out, _ = cure("--drop", "23 mm", "--depth", "300 mm", "--wet", "600 kg/m3")
    assert status == 1 and "fell by 7.7 %" in out and "650 kg/m3" in out and "STOP" in out
    status, out, _ = cure("--drop", "1/8 in", "--depth", "12 in")
    assert status == 0 and "go on" in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "give the weather"),
        (("--air", "warm"), "want a temperature"),
        (("--air", "20"), "got \"20\", want a temperature with its unit"),
        (("--air", "20 C", "--humidity", "150 %", "--wind", "0"), "relative humidity: got 150 %, want 0 to 100 %"),
        (("--air", "20 C", "--humidity", "50", "--wind", "0"), 'written with its sign: "50 %"'),
        (("--air", "20 C", "--humidity", "50 %", "--wind", "12"), "want a wind such as"),
        (("--air", "20 C", "--humidity", "50 %", "--wind", "90 mph"), "wind: got 90 mph"),
        (("--drop", "1 in"), "takes both --drop and --depth"),
        (("--drop", "2 in", "--depth", "1 in"), "less than the depth"),
        (("--hours", "none.csv"), "none.csv"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_and_leaves_with_2(cure, arguments, words):
    status, out, err = cure(*arguments)
    assert (status, out) == (2, "")
    assert words in err


def test_it_loads_nothing_heavy():
    code = (
        "import sys\nfrom formwork.cli.commands import commands\nfrom formwork.cli.outcome import run\n"
        "assert run(commands, ['cure', '--air', '20 C', '--humidity', '90 %', '--wind', '0']) == 0\n"
        "heavy = {'pydantic', 'pint', 'shapely', 'numpy', 'ezdxf', 'OCP', 'sqlite3'} & set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
