"""What LibreOffice and ironcalc make of the formulas costbook relies on, and where they differ.

Expected: what Excel's documentation of the function says, from memory, worked out by hand on the
data at the top. A limit that is pinned here is a reason why costbook writes a formula otherwise.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.judges import ErrorValue, Judge, Value, compare
from tests.judges.books import write_book
from tests.judges.ironcalc_judge import IronCalc
from tests.judges.libreoffice import LibreOffice

GAP = "\N{NO-BREAK SPACE}"
# Rows 1 to 9: names, their numbers, then: price (a text and gaps among them), rank, key, supplier.
DATA: dict[str, object] = {
    **{f"A{n}": name for n, name in enumerate(["egg", "T", "t", "bread* 1", "a?b", "til~de"], 1)},
    "A7": "apple",
    "A8": f"No{GAP}Break ",
    "A9": "<5",
    **{f"C{n}": 2 ** (n - 1) for n in range(1, 10)},
    "E1": '=""',
    "E2": 5,
    "E3": '=""',
    "E4": '=""',
    "F1": 10,
    "F2": "txt",
    "F3": '=""',
    "H1": 4634200007,
    "H2": 4634300009,
    "H3": 4650000001,
    "H4": 4634200006,
    "I1": "k<5",
    "I2": "k<5",
    "I3": "k<5",
    "I4": "j",
    "J1": "s",
    "J2": "r",
    "J3": "s",
}
NA, VALUE = ErrorValue("#N/A"), ErrorValue("#VALUE!")

BOTH: dict[str, Value] = {
    # A gap is an empty text, and no number.
    '=IF(COUNT(D!E1,D!E2)=2,D!E1*D!E2,"")': "",
    "=SUM(D!E1:E4)": 5.0,
    "=SUM(D!E3:E4)": 0.0,
    "=COUNT(D!E1:E4)": 1.0,
    "=D!E1=0": False,
    '=D!E1=""': True,
    "=D!E1>0": True,  # a text is above every number
    "=D!E1+1": VALUE,
    "=MAX(D!E1:E4)": 5.0,
    "=MAX(D!E3:E4)": 0.0,
    "=SUMPRODUCT(D!E1:E4,D!C1:C4)": 10.0,  # 5 x 2
    "=SUMPRODUCT(D!E1:E4*D!C1:C4)": VALUE,
    '=IFERROR(1/0,"")': "",
    # The latest purchase: the rank is the day x 100,000 + the row.
    '=_xlfn.MAXIFS(D!H1:H4,D!I1:I4,"k<5",D!H1:H4,"<"&(46343+1)*100000)': 4634300009.0,
    '=_xlfn.MAXIFS(D!H1:H4,D!I1:I4,"k<5",D!J1:J4,"s",D!H1:H4,"<"&(46343+1)*100000)': 4634200007.0,
    '=_xlfn.MAXIFS(D!H1:H4,D!I1:I4,"none",D!H1:H4,"<"&(46343+1)*100000)': 0.0,
    '=_xlfn.MAXIFS(D!C1:C9,D!A1:A9,"<5")': 0.0,  # a criterion, not the name in A9
    "=MATCH(4634300009,D!$H:$H,0)": 2.0,
    "=MOD(4634200007,100000)": 7.0,
    # Prices on a step.
    "=CEILING(ROUND(2.1/0.35,6),0.01)": 6.0,
    "=CEILING(ROUND(6.000002,6),0.05)": 6.05,
    "=CEILING(ROUND(6.0000000000001,6),0.05)": 6.0,
    "=ROUNDUP(2.000001,0)": 3.0,
    "=ROUNDUP(ROUND(2.0000000001,6),0)": 2.0,
    "=INT(46342.7)": 46342.0,
    # A cell by its row number: an empty one shows 0, and equals both 0 and an empty text.
    "=INDEX(D!$F:$F,1)": 10.0,
    "=INDEX(D!$F:$F,5)": 0.0,
    '=INDEX(D!$F:$F,5)=""': True,
    "=INDEX(D!$F:$F,5)=0": True,
    "=ISNUMBER(INDEX(D!$F:$F,5))": False,
    "=ISNUMBER(INDEX(D!$F:$F,2))": False,
    '=INDEX(D!$F:$F,3)=""': True,
    "=ISBLANK(INDEX(D!$F:$F,3))": False,
    "=ISBLANK(INDEX(D!$F:$F,5))": True,
    # Names.
    f'="k"&LOWER(TRIM(SUBSTITUTE(D!A8,"{GAP}"," ")))': "kno break",
    '=MATCH("EGG",D!A1:A9,0)': 1.0,
    '=MATCH("gg",D!A1:A9,0)': NA,
    '=MATCH("br*",D!A1:A9,0)': 4.0,  # * and ? stand for other characters
    '=MATCH("a??le",D!A1:A9,0)': 7.0,
    '=MATCH("bread~* 1",D!A1:A9,0)': 4.0,
    '=MATCH("til~de",D!A1:A9,0)': NA,
    '=MATCH("til~~de",D!A1:A9,0)': 6.0,
    '=MATCH("<5",D!A1:A9,0)': 9.0,
    "=EXACT(D!A2,D!A3)": False,
    '=MATCH("t",D!A1:A9,0)': 2.0,  # T, as case is not looked at
    # An array formula looks at every cell, also through EXACT.
    '{=SUM(EXACT(D!$A$1:$A$9,"t")*D!$C$1:$C$9)}': 4.0,
    # Counting what has changed.
    "=SUMPRODUCT(--(D!A2:A50<>D!C2:C50))": 8.0,
    '=SUMPRODUCT((D!I1:I50="k<5")*(D!J1:J50="s")*(D!H1:H50>4634200000))': 2.0,
    '=SUMPRODUCT(--(D!F1:F9<>""))': 2.0,
    "=COUNTA(D!F1:F9)": 3.0,  # the empty text counts
    '=SUMIFS(D!C1:C4,D!J1:J4,"s",D!H1:H4,">0",D!C1:C4,"<3")': 1.0,
    # Text.
    '=TEXT(1234.5,"0.00")': "1234.50",
    '=TEXT(46342,"yyyy-mm-dd")': "2026-11-16",
    '=TEXT(ROUND(2.005,2),"0.00")': "2.01",
    "=FIXED(1234.567,2)": "1,234.57",
    '=HYPERLINK("#D!A1","x")': "x",
    '=HYPERLINK("#D!A1",5.5)': 5.5,
    "=TODAY()-INT(NOW())": 0.0,
    "=" + "".join(f"IF(1=2,{n}," for n in range(10)) + "10" + ")" * 10: 10.0,
}

# What LibreOffice computes, then what ironcalc does; Excel does as LibreOffice, but for the last.
DIFFERENT: dict[str, tuple[Value, Value]] = {
    # Brackets are lost: 2>1=2>3 is read from the left.
    "=(2>1)=(2>3)": (False, True),
    "=(5-3)%": (0.02, 4.97),
    # A range in a function of one value is cut to the cell in the formula's own row: row 3, a t.
    '=SUMPRODUCT(EXACT(D!$A$1:$A$9,"t")*D!$C$1:$C$9)': (4.0, 511.0),
    "=SUMPRODUCT(--ISNUMBER(D!F1:F9))": (1.0, 0.0),
    '=_xlfn.TEXTJOIN(", ",TRUE,D!E1,D!E2,"z")': ("5, z", ", 5, z"),
    '=TEXT(2.005,"0.00")': ("2.01", "2.00"),
    '=""&(1/3)': ("0.333333333333333", "0.3333333333333333"),
    # ~ makes the next character plain in a criterion; ironcalc takes it as it stands.
    '=_xlfn.MAXIFS(D!C1:C9,D!A1:A9,"til~~de")': (32.0, 0.0),
    "=SUM(INDEX(D!$C:$C,2):INDEX(D!$C:$C,4))": (14.0, VALUE),
    "=SQRT(-1)": (ErrorValue("Err:502"), ErrorValue("#NUM!")),
    # Excel and ironcalc: a no-break space. LibreOffice on Linux: another character.
    '=SUBSTITUTE(D!A8,CHAR(160)," ")': (f"No{GAP}Break ", "No Break "),
}


def answers(judge: Judge, folder: Path, formulas: list[str]) -> dict[str, Value | None]:
    """What a judge makes of each formula."""
    cells = {f"A{row}": formula for row, formula in enumerate(formulas, 1)}
    document = judge.open(write_book(folder / "asked.xlsx", {"D": DATA, "F": cells}))
    document.recalculate()
    values = document.values("F")
    document.close()
    return {formula: values.get(cell) for cell, formula in cells.items()}


def test_what_both_compute(judge: Judge, tmp_path: Path) -> None:
    assert compare(BOTH, answers(judge, tmp_path, list(BOTH))) == []


@pytest.mark.libreoffice
def test_what_only_libreoffice_computes(libreoffice: LibreOffice, tmp_path: Path) -> None:
    expected = {formula: values[0] for formula, values in DIFFERENT.items()}
    assert compare(expected, answers(libreoffice, tmp_path, list(DIFFERENT))) == []


def test_where_ironcalc_goes_another_way(ironcalc: IronCalc, tmp_path: Path) -> None:
    expected = {formula: values[1] for formula, values in DIFFERENT.items()}
    assert compare(expected, answers(ironcalc, tmp_path, list(DIFFERENT))) == []
