"""Our sheets in the person's workbook: nothing lost, nothing else changed, the same twice."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Iterator

import openpyxl
import pytest
from lxml import etree

from costbook.package.graft import still_pointed_at
from tests.package.making import (
    TITLES,
    corpus,
    edited,
    faults,
    file_of,
    graft,
    grafted,
    named,
    new_faults,
    our_book,
    ours_in,
    parts,
    plain,
    rich,
    tab_names,
    xml_edited,
)

BOOKS = {"plain": plain(), "rich": rich(), **corpus()}
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELS = "xl/_rels/workbook.xml.rels"
FOUR = {"[Content_Types].xml", "xl/workbook.xml", RELS, "xl/styles.xml"}


@pytest.fixture(params=sorted(BOOKS))
def theirs(request: pytest.FixtureRequest) -> bytes:
    return BOOKS[request.param]


def test_the_workbooks_of_other_programs_are_here() -> None:
    if not corpus():
        pytest.skip("no workbooks of other programs are here; COSTBOOK_CORPUS names their folder")
    assert len(corpus()) > 20


def test_every_part_but_four_is_the_same_to_the_byte(theirs: bytes) -> None:
    before, after = parts(theirs), parts(grafted(theirs))
    changed = {name for name in before if after.get(name) != before[name]}
    assert changed <= FOUR | {"xl/calcChain.xml"}
    assert "xl/calcChain.xml" not in after
    kept = [name for name in before if name in after]
    assert list(after)[: len(kept)] == kept


def test_unchanged_parts_are_copied_as_they_are_stored_with_their_dates(theirs: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(theirs)) as old:
        before = {each.filename: each for each in old.infolist()}
    with zipfile.ZipFile(io.BytesIO(grafted(theirs))) as new:
        after = {each.filename: each for each in new.infolist()}
    for name in set(before) & set(after) - FOUR:
        assert after[name].compress_size == before[name].compress_size
        assert after[name].date_time == before[name].date_time


def without_what_we_add(root: etree._Element, theirs: etree._Element) -> Iterator[str]:
    """What is missing of the original in the changed tree: every element, attribute and text."""
    if root.tag != theirs.tag or (root.text or "").strip() != (theirs.text or "").strip():
        yield f"{theirs.tag!r} became {root.tag!r}"
    for name, value in theirs.items():
        if root.get(name) != value and name != "count":
            yield f"{theirs.tag!r} {name!r}: {value!r} became {root.get(name)!r}"
    rest = list(root)
    for child in theirs:
        if child.get("Type", "").endswith("/calcChain") or "calcChain" in child.get("PartName", ""):
            continue
        same = [each for each in rest if not list(without_what_we_add(each, child))]
        if not same:
            yield f"{child.tag!r} {child.items()} is gone"
        else:
            rest = rest[rest.index(same[0]) + 1 :]


def test_the_four_parts_differ_by_additions_only(theirs: bytes) -> None:
    before, after = parts(theirs), parts(grafted(theirs))
    for name in FOUR:
        old, new = etree.fromstring(before[name]), etree.fromstring(after[name])
        if name == "[Content_Types].xml":
            # quicker than in order: these carry no order
            there = {etree.tostring(each, with_tail=False) for each in new}
            lost = {etree.tostring(each, with_tail=False) for each in old} - there
            assert not {each for each in lost if b"calcChain" not in each}
        elif name == "xl/styles.xml":
            assert not list(entries_changed(old, new))
        else:
            assert not list(without_what_we_add(new, old)), name


def entries_changed(old: etree._Element, new: etree._Element) -> Iterator[str]:
    """Groups of the styles part in which the person's entries are not the same prefix."""
    groups = {each.tag: each for each in new}
    for group in old:
        mine = [etree.tostring(each, method="c14n") for each in group]
        now = [etree.tostring(each, method="c14n") for each in groups[group.tag]]
        if now[: len(mine)] != mine:
            yield str(group.tag)


def test_a_second_run_gives_the_same_file(theirs: bytes) -> None:
    once = grafted(theirs)
    assert grafted(once) == once


def test_the_same_workbooks_give_the_same_file() -> None:
    titles = {title: title for title in TITLES}
    ours = our_book(titles)
    assert graft(rich(), ours, titles) == graft(rich(), ours, titles)


def test_a_then_b_then_a_gives_as_parts(theirs: bytes) -> None:
    once = grafted(theirs)
    other = grafted(once, figure=7.25, drop=("Cost cards",))
    assert list(ours_in(other).values()) == ["Prices", "To put right"]
    assert grafted(other) == once


def test_nothing_that_was_sound_became_faulty(theirs: bytes) -> None:
    assert new_faults(theirs, grafted(theirs)) == []


def by_openpyxl(package: bytes, values: bool = False) -> openpyxl.Workbook:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # openpyxl says what of theirs it doesn't know
        return openpyxl.load_workbook(io.BytesIO(package), data_only=values)


def values_of(package: bytes) -> dict[str, dict[str, object]] | None:
    """Every sheet's values as openpyxl reads them; None where it can't read the workbook."""
    try:
        book = by_openpyxl(package, values=True)
    except (TypeError, ValueError, KeyError, AttributeError):
        return None
    return {
        str(sheet.title): {
            str(cell.coordinate): cell.value for row in sheet.iter_rows() for cell in row
        }
        for sheet in book.worksheets
    }


@pytest.mark.parametrize("name", [name for name, data in sorted(BOOKS.items()) if len(data) < 6e4])
def test_openpyxl_reads_their_values_and_ours(name: str) -> None:
    before, after = values_of(BOOKS[name]), values_of(grafted(BOOKS[name]))
    if before is None or after is None:
        assert before is after  # what it couldn't read before, it can't read now
        return
    assert {sheet: after[sheet] for sheet in before} == before
    assert after["Prices"]["A1"] == " Prices & <more> "
    assert after["Prices"]["A2"] == "plain bold end"
    assert after["Prices"]["B1"] == 1.5


def test_our_texts_are_in_our_sheets_and_their_formats_in_front() -> None:
    after = parts(grafted(rich()))
    sheet = after["xl/worksheets/sheet3.xml"].decode()
    assert (
        't="inlineStr"><is><t xml:space="preserve"> Prices &amp; &lt;more&gt; </t></is></c>'
        in sheet
    )
    assert '<is><r><t xml:space="preserve">plain </t></r><r><rPr><b/>' in sheet
    assert "tabSelected" not in sheet
    assert ' t="s"' not in sheet


def test_a_format_of_ours_shows_what_it_says_in_their_workbook() -> None:
    book = by_openpyxl(grafted(rich()))
    cell = book["Prices"]["B1"]
    assert cell.number_format == '0.00 "each"'
    assert cell.font.b
    assert cell.fill.fgColor.rgb == "FFFFEEDD"
    rules = next(iter(book["Prices"].conditional_formatting)).rules
    assert rules[0].dxf.fill.bgColor.rgb == "FFFFC0C0"
    assert book["Recipes"]["C2"].number_format == '0.000 "kg"'


def test_our_notes_charts_and_links_come_along() -> None:
    book = by_openpyxl(grafted(rich()))
    sheet = book["Cost cards"]
    assert sheet["B1"].comment is not None
    assert sheet["B1"].comment.text == "how it was worked out"
    assert len(sheet._charts) == 1
    inside, outside = sheet["A4"].hyperlink, sheet["A5"].hyperlink
    assert inside is not None
    assert outside is not None
    assert (inside.location, outside.target) == ("'Recipes'!A1", "https://example.org/?a=1&b=2")
    assert 'name="_xlnm.Print_Titles" localSheetId="3">' in workbook_xml(grafted(rich()))


def test_styles_do_not_grow_from_run_to_run_with_other_figures() -> None:
    sizes = set()
    package = rich()
    for figure in (1.0, 2.0, 3.0):
        package = grafted(package, figure)
        sizes.add(len(parts(package)["xl/styles.xml"]))
    assert len(sizes) == 1


def test_a_switch_written_another_way_is_the_same_format() -> None:
    once = grafted(rich())
    again = xml_edited(once, "xl/styles.xml", ("<b/>", '<b val="true"/>'))
    assert parts(grafted(again))["xl/styles.xml"] == parts(again)["xl/styles.xml"]


def test_our_number_formats_get_numbers_above_theirs() -> None:
    theirs = xml_edited(
        rich(),
        "xl/styles.xml",
        ('numFmtId="164" formatCode', 'numFmtId="300" formatCode'),
        ('numFmtId="164"', 'numFmtId="300"'),
    )
    root = etree.fromstring(parts(grafted(theirs))["xl/styles.xml"])
    numbers = {each.get("formatCode"): each.get("numFmtId") for each in root.iter(f"{MAIN}numFmt")}
    assert numbers == {'0.000 "kg"': "300", '0.00 "each"': "301", '0.0 "!"': "302"}


def test_a_workbook_without_styles_gets_them() -> None:
    bare = xml_edited(
        plain(),
        RELS,
        ("relationships/styles", "relationships/theme2"),
        ("styles.xml", "theme/theme1.xml"),
    )
    bare = xml_edited(
        edited(bare, {"xl/styles.xml": None}),
        "[Content_Types].xml",
        (
            (
                '<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-'
                'officedocument.spreadsheetml.styles+xml"/>'
            ),
            "",
        ),
    )
    once = grafted(bare)
    assert faults(once) == []
    assert by_openpyxl(once)["Prices"]["B1"].font.b
    assert grafted(once) == once


def test_prefixed_names_stay_prefixed() -> None:
    text = parts(plain())["xl/workbook.xml"].decode()
    prefixed = re.sub(r"<(/?)(?!\?)(\w)", r"<\1x:\2", text).replace("xmlns=", "xmlns:x=")
    once = grafted(edited(plain(), {"xl/workbook.xml": prefixed.encode()}))
    workbook = parts(once)["xl/workbook.xml"].decode()
    assert '<x:sheet name="Prices" sheetId="2" r:id="rId4"/>' in workbook
    assert "<sheet" not in workbook
    assert grafted(once) == once


def test_a_stale_content_type_keeps_its_name_to_itself() -> None:
    stale = xml_edited(
        plain(),
        "[Content_Types].xml",
        (
            "</Types>",
            '<Override PartName="/xl/worksheets/sheet2.xml" ContentType="old/x"/></Types>',
        ),
    )
    after = parts(grafted(stale))
    assert "xl/worksheets/sheet2.xml" not in after
    assert "xl/worksheets/sheet3.xml" in after


def workbook_xml(package: bytes) -> str:
    return parts(package)["xl/workbook.xml"].decode()


def test_the_sheet_that_was_open_stays_the_open_one() -> None:
    theirs = xml_edited(
        plain("Recipes", "Batches"),
        "xl/workbook.xml",
        ("<workbookView ", '<workbookView activeTab="1" '),
    )
    assert 'activeTab="1"' in workbook_xml(grafted(theirs))


def test_a_sheet_of_ours_no_longer_made_leaves_with_its_parts() -> None:
    once = grafted(plain("Recipes"))
    moved = xml_edited(once, "xl/workbook.xml", ("<workbookView ", '<workbookView activeTab="3" '))
    less = grafted(moved, drop=("Cost cards",))
    assert ours_in(less) == {"Prices": "Prices", "To put right": "To put right"}
    assert 'activeTab="2"' in workbook_xml(less)
    before, after = set(parts(once)), set(parts(less))
    assert len(before) - len(after) == 7  # sheet, drawing, chart, notes, their shapes, 2 relations
    assert faults(less) == []


def with_a_sheet_behind(once: bytes) -> bytes:
    """The person has added a sheet, Late, behind ours, with a name of its own."""
    behind = xml_edited(
        once,
        "xl/workbook.xml",
        ("</sheets>", '<sheet name="Late" sheetId="99" r:id="rId99"/></sheets>'),
        (
            "</definedNames>",
            '<definedName name="here" localSheetId="4">Late!$A$1</definedName></definedNames>',
        ),
    )
    behind = xml_edited(
        behind,
        RELS,
        (
            "</Relationships>",
            (
                '<Relationship Id="rId99" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
                'relationships/worksheet" Target="worksheets/late.xml"/></Relationships>'
            ),
        ),
    )
    return xml_edited(
        edited(behind, {"xl/worksheets/late.xml": parts(plain())["xl/worksheets/sheet1.xml"]}),
        "[Content_Types].xml",
        (
            "</Types>",
            (
                '<Override PartName="/xl/worksheets/late.xml" ContentType="application/vnd.openxml'
                'formats-officedocument.spreadsheetml.worksheet+xml"/></Types>'
            ),
        ),
    )


def test_their_names_follow_their_sheet_when_ours_before_it_leaves() -> None:
    behind = with_a_sheet_behind(grafted(plain("Recipes")))
    assert faults(behind) == []
    less = grafted(behind, drop=("Cost cards",))
    assert '<definedName name="here" localSheetId="3">Late!$A$1</definedName>' in workbook_xml(less)
    again = grafted(less)
    assert '<definedName name="here" localSheetId="4">Late!$A$1</definedName>' in workbook_xml(
        again
    )
    assert re.findall('<sheet name="([^"]+)"', workbook_xml(again)) == [
        "Recipes",
        "Prices",
        "Cost cards",
        "To put right",
        "Late",
    ]
    assert faults(again) == []


def pointing(formula: str) -> bytes:
    """A workbook with our sheets, in which a formula of the person's was typed since."""
    return xml_edited(
        grafted(plain("Recipes", A1="x")),
        "xl/worksheets/sheet1.xml",
        ("</row>", f'<c r="C1"><f>{formula}</f><v>1</v></c></row>'),
    )


@pytest.mark.parametrize(
    "formula",
    ["Prices!B1*2", "'Cost cards'!B1", "SUM(Prices:Late!B1)", "INDIRECT(&quot;Prices!B1&quot;)"],
)
def test_their_formulas_on_our_sheets_are_worked_out_anew_on_opening(formula: str) -> None:
    before = pointing(formula)
    assert "fullCalcOnLoad" not in workbook_xml(before)
    after = grafted(before, figure=3.0)
    assert '<calcPr calcId="124519" fullCalcOnLoad="1"/>' in workbook_xml(after)
    assert parts(after)["xl/worksheets/sheet1.xml"] == parts(before)["xl/worksheets/sheet1.xml"]


@pytest.mark.parametrize("formula", ["MyPrices!B1", "Recipes!A1", "Prices", "&quot;Prices&quot;"])
def test_how_they_work_out_the_rest_is_left_as_it_was(formula: str) -> None:
    assert "fullCalcOnLoad" not in workbook_xml(grafted(pointing(formula)))


def test_a_text_that_looks_like_a_reference_asks_for_nothing() -> None:
    assert "fullCalcOnLoad" not in workbook_xml(grafted(grafted(plain(A1="see Prices!B1"))))


def test_a_name_of_theirs_for_a_cell_of_ours_stays_and_is_worked_out_anew() -> None:
    mine = '<definedName name="best">Prices!$B$1</definedName>'
    local = '<definedName name="mine" localSheetId="1">Prices!$B$2</definedName>'
    before = xml_edited(
        grafted(plain()), "xl/workbook.xml", ("<definedNames>", f"<definedNames>{mine}{local}")
    )
    after = workbook_xml(grafted(before))
    assert mine in after
    assert local in after
    assert 'fullCalcOnLoad="1"' in after
    assert "localSheetId" not in workbook_xml(grafted(before, drop=("Prices",))).split(mine)[0]


def test_a_sheet_they_point_at_stays_even_when_it_is_made_no_more() -> None:
    before = pointing("Prices!B1")
    after = grafted(before, drop=("Prices",))
    assert sorted(ours_in(after).values()) == sorted(TITLES)
    assert parts(after)["xl/worksheets/sheet2.xml"] == parts(before)["xl/worksheets/sheet2.xml"]
    assert still_pointed_at(file_of(before), ["Cost cards", "To put right"]) == ["Prices"]
    assert still_pointed_at(file_of(before), TITLES) == []
    assert faults(after) == []
    assert grafted(after, drop=("Prices",)) == after
    assert ours_in(grafted(after)) == ours_in(before)


def test_a_chart_of_theirs_keeps_the_sheet_it_draws() -> None:
    once = grafted(rich())
    charted = xml_edited(once, "xl/charts/chart1.xml", ("'My own'!$A$1:$A$3", "Prices!$B$1:$B$3"))
    assert "Prices" in ours_in(grafted(charted, drop=("Prices",))).values()


def with_table(name: str) -> bytes:
    names = dict(zip(TITLES, TITLES, strict=True))

    def more(book: object) -> None:
        sheet = book.get_worksheet_by_name("Prices")  # type: ignore[attr-defined]
        sheet.add_table("H1:I3", {"name": name, "columns": [{"header": "q"}, {"header": "z"}]})
        sheet.write_formula("B7", f"=SUM({name}[q])", None, 0)

    return our_book(names, more=more)


def test_our_tables_take_free_names_and_numbers() -> None:
    titles = {title: title for title in TITLES}
    once = graft(rich(), with_table("Costs"), titles)
    assert faults(once) == []
    after = parts(once)
    assert b'id="2" name="Costs_2" displayName="Costs_2"' in after["xl/tables/table2.xml"]
    assert b"SUM(Costs_2[q])" in after["xl/worksheets/sheet3.xml"]
    assert graft(once, with_table("Costs"), titles) == once


def test_a_table_whose_name_is_free_keeps_it() -> None:
    titles = {title: title for title in TITLES}
    after = parts(graft(plain(), with_table("Stack"), titles))
    assert b'name="Stack" displayName="Stack"' in after["xl/tables/table1.xml"]


def test_a_view_gets_a_window_when_the_workbook_has_none() -> None:
    bare = re.sub("<bookViews>.*</bookViews>", "", workbook_xml(plain()))
    after = grafted(edited(plain(), {"xl/workbook.xml": bare.encode()}))
    assert "<bookViews><workbookView/></bookViews><sheets>" in workbook_xml(after)
    assert faults(after) == []


@pytest.mark.parametrize(
    ("names", "titles", "sentence"),
    [
        (["Prices"], {}, "titles must name each sheet of ours, and no other"),
        (["Recipes"], {"Recipes": "Recipes"}, "'Recipes' isn't the name that tab_names gives"),
    ],
)
def test_a_caller_that_skips_a_step_is_told(
    names: list[str], titles: dict[str, str], sentence: str
) -> None:
    with pytest.raises(ValueError, match=re.escape(sentence)):
        graft(plain(), our_book({name: name for name in names}), titles)


def test_what_a_graft_cannot_take_is_refused_to_the_caller() -> None:
    def more(book: object) -> None:
        sheet = book.get_worksheet_by_name("Prices")  # type: ignore[attr-defined]
        sheet.write_dynamic_array_formula("K1", "=SORT(A1:A3)")

    ours = our_book({"Prices": "Prices"}, more=more)
    with pytest.raises(ValueError, match=r"our workbook holds what can't be grafted: \['sheetMeta"):
        graft(plain(), ours, {"Prices": "Prices"})


def test_sheets_can_come_one_at_a_time() -> None:
    package = plain()
    for title in TITLES:
        kept = tuple(each for each in TITLES if each not in (title, *ours_in(package).values()))
        package = grafted(package, drop=kept)
    assert ours_in(package) == {title: title for title in TITLES}
    assert tab_names(package, TITLES) == {title: title for title in TITLES}
    assert named(package) == {title: title for title in TITLES}
    assert grafted(package) == grafted(plain())
