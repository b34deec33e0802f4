"""Our charts say everything that a later Excel's workbook would otherwise turn on."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path
from typing import Final

import pytest

from costbook.package.charts import spelled_out
from tests.helpers import run
from tests.judges.libreoffice import LibreOffice
from tests.package.making import edited, parts

STALL: Final = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"
ON: Final = ("--on", "2026-11-20")
OPTIONS: Final = (
    *("showLegendKey", "showVal", "showCatName", "showSerName", "showPercent", "showBubbleSize"),
)


def costed(version: str, folder: Path) -> Path:
    """The sample in a workbook that a later Excel saved, with our sheets in it."""
    app = parts(STALL.read_bytes())["docProps/app.xml"].decode()
    saved = re.sub(r"<AppVersion>.*?</AppVersion>", f"<AppVersion>{version}</AppVersion>", app)
    path = folder / "stall.xlsx"
    path.write_bytes(edited(STALL.read_bytes(), {"docProps/app.xml": saved.encode()}))
    run("cost", path, *ON)
    return path


def ours(path: Path) -> dict[str, str]:
    """The charts that weren't there before, as text."""
    before = parts(STALL.read_bytes())
    found = parts(path.read_bytes()).items()
    return {n: data.decode() for n, data in found if "/charts/" in n and n not in before}


def test_every_label_tick_and_option_is_written_out(tmp_path: Path) -> None:
    charts = ours(costed("16.0300", tmp_path))
    assert charts
    for text in charts.values():
        for label in re.findall(r"<c:dLbl>.*?</c:dLbl>", text):
            assert "<c:delete" in label or all(f"<c:{option} " in label for option in OPTIONS)
        for labels in re.findall(r"</c:dLbl><c:numFmt.*?</c:dLbls>", text):
            assert all(f"<c:{option} " in labels for option in OPTIONS)
        for axis in re.findall(r"<c:(?:cat|val)Ax>.*?</c:(?:cat|val)Ax>", text):
            assert '<c:majorTickMark val="out"/><c:minorTickMark val="none"/>' in axis
        series = re.findall(r"<c:ser>.*?</c:ser>", text)
        option = "smooth" if "<c:lineChart>" in text else "invertIfNegative"
        assert all(f'<c:{option} val="0"/>' in each for each in series)
        assert '<c:roundedCorners val="0"/><c:chart>' in text
        assert text.count("<c:overlay val=") == text.count("<c:title>") + text.count("<c:legend>")


def test_what_a_chart_says_itself_stays(tmp_path: Path) -> None:
    for text in ours(costed("16.0300", tmp_path)).values():
        said = text.replace('<c:overlay val="0"/>', '<c:overlay val="1"/>').replace(
            '<c:majorTickMark val="out"/>', '<c:majorTickMark val="cross"/>'
        )
        assert spelled_out(said.encode()).decode() == said != text


def printed(path: Path, office: LibreOffice, folder: Path) -> str:
    pdf = office.to_pdf(path, folder)
    return subprocess.run(
        ["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout


@pytest.mark.libreoffice
def test_a_workbook_of_excel_16_shows_the_labels_that_were_meant(
    libreoffice: LibreOffice, tmp_path: Path
) -> None:
    path = costed("16.0300", tmp_path)
    crowded = re.compile(r"Labour; [0-9]+%")
    assert not crowded.search(printed(path, libreoffice, tmp_path))
    # the control: labels that don't say what they leave out
    silent = re.compile(r'<c:show(?:LegendKey|CatName|SerName|Percent) val="0"/>')
    path.write_bytes(
        edited(path.read_bytes(), {n: silent.sub("", t).encode() for n, t in ours(path).items()})
    )
    assert crowded.search(printed(path, libreoffice, tmp_path))
