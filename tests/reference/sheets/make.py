"""Makes the sheets of this folder, which tests/all/deck/from_sheet.rs reads: with openpyxl 3.1 (.xlsx) and odfpy 1.4
(.ods), and as bytes (.csv), so that they are written by other programs than the one that reads them.

    pip install openpyxl odfpy
    python3 tests/reference/sheets/make.py

`questions.*` hold the same three cards, each as its type of file has them: a share typed as a percentage, a number in
the place of a text, a blank row, a column of remarks. `spoilt.*` hold what spreadsheets do to questions.
"""
import datetime
import os

from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook

HERE = os.path.dirname(os.path.abspath(__file__))
HEADINGS = [
    "Kind", "id", "topic", "heading", "question", "point 1", "point 2", "point 3", "accepted words", "Accepted words 2",
    "value", "within", "reason", "source", "# done",
]
SHARE = ("share", 0.02)


def row(**cells):
    return [cells.get(name.lower().replace(" ", "_").replace("#_", ""), None) for name in HEADINGS]


QUESTIONS = [
    row(kind="recall", id="priming-pump", topic="A-III/1.1.4", heading="Starting",
        question="Why does the priming pump of an auxiliary engine stop soon after the start?",
        point_1="!The engine's own pump now supplies the bearings", accepted_words="own pump supplies; attached pump takes over",
        point_2="A pressure switch stops it", accepted_words_2="switch sees pressure",
        reason="It fills the bearings before the first turn.", source="practice", done="yes"),
    None,
    row(kind="Figure", id=7, topic="A-III/1.1.4", question="At what gauge pressure is control air supplied?",
        value="7,5 bar", within=SHARE, reason="Most controls are made for it.", source="practice"),
    row(kind="why", id="blackout-chain", topic="A-III/1.2.1", question="Put the causes of the blackout in order.",
        point_1="The strainer chokes", point_2="The cooling water grows hot", point_3="The engine trips",
        reason="The alarm list shows it.", source="practice"),
]


def text_of(value):
    return "2 %" if value is SHARE else "" if value is None else str(value)


def questions_xlsx():
    book = Workbook()
    sheet = book.active
    sheet.append(HEADINGS)
    for number, cells in enumerate(QUESTIONS, start=2):
        for column, value in enumerate(cells or [], start=1):
            cell = sheet.cell(number, column)
            if value is SHARE:
                cell.value, cell.number_format = value[1], "0%"
            else:
                cell.value = value
    # What programs leave behind: formatted cells with nothing in them, far below.
    sheet.cell(100_000, 3).number_format = "0.00"
    book.create_sheet("Notes")["A1"] = "not read"
    book.save(os.path.join(HERE, "questions.xlsx"))


def ods_cell(value):
    if value is None:
        return TableCell()
    if value is SHARE:
        cell = TableCell(valuetype="percentage", value=value[1])
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        cell = TableCell(valuetype="float", value=value)
    elif isinstance(value, bool):
        cell = TableCell(valuetype="boolean", booleanvalue="true" if value else "false")
    elif isinstance(value, datetime.date):
        cell = TableCell(valuetype="date", datevalue=value.isoformat())
    else:
        cell = TableCell(valuetype="string")
    for line in text_of(value).split("\n"):
        cell.addElement(P(text=line))
    return cell


def ods(name, rows):
    document = OpenDocumentSpreadsheet()
    table = Table(name="Questions")
    for cells in rows:
        line = TableRow()
        for value in cells or []:
            line.addElement(value if hasattr(value, "qname") else ods_cell(value))
        if not cells:
            line.addElement(TableCell(numbercolumnsrepeated=1024))
        table.addElement(line)
    table.addElement(TableRow(numberrowsrepeated=1_000_000, stylename=None))
    table.lastChild.addElement(TableCell(numbercolumnsrepeated=1024))
    document.spreadsheet.addElement(table)
    document.save(os.path.join(HERE, name))


def questions_csv():
    def quoted(value):
        text = text_of(value)
        return '"' + text.replace('"', '""') + '"' if any(sign in text for sign in ';"\n') else text

    lines = [";".join(map(quoted, cells)) if cells else "" for cells in [HEADINGS, *QUESTIONS]]
    with open(os.path.join(HERE, "questions.csv"), "wb") as file:
        file.write("\ufeff".encode() + "\r\n".join(lines + [""]).encode())


def spoilt():
    base = dict(topic="A-III/1.1.4", source="practice", reason="Because.")
    rows = [
        row(kind="recall", id="dated", question="One?", point_1=datetime.date(2026, 2, 1), **base),
        row(kind="recall", id="truth", question="Two?", point_1=True, **base),
        row(kind="sequence", id="steps", question="Three?", **base),
        row(kind="figure", id="thousands", question="Four?", value="1,500 kW", **base),
        row(kind="recall", id="gap", question="Five?", point_1="One thing", point_3="Another", **base),
        row(kind="recall", question="Six?", point_1="No id", **base),
        row(kind="figure", id="right", question="Seven?", value="30 bar", within="1 bar", **base),
        row(kind="figure", id="bad-unit", question="Eight?", value="30 barr", **base),
    ]
    book = Workbook()
    sheet = book.active
    sheet.append(HEADINGS)
    for cells in rows:
        sheet.append(cells)
    sheet["M10"] = "a merged reason"
    for column, text in zip("ABCEFN", ["recall", "merged", "A-III/1.1.4", "Nine?", "One thing", "practice"]):
        sheet[f"{column}10"] = text
    sheet.merge_cells("M9:M10")
    for column, text in zip("ABCEN", ["figure", "formula", "A-III/1.1.4", "Ten?", "practice"]):
        sheet[f"{column}11"] = text
    sheet["K11"] = '=CONCATENATE("3","0 bar")'
    for column, text in zip("ABCEN", ["figure", "shown-unit", "A-III/1.1.4", "Eleven?", "practice"]):
        sheet[f"{column}12"] = text
    sheet["K12"], sheet["K12"].number_format = 30, '0" bar"'
    book.save(os.path.join(HERE, "spoilt.xlsx"))
    merged = row(kind="recall", id="merged", question="Nine?", point_1="One thing", **base)
    covered = CoveredTableCell()
    merged[HEADINGS.index("reason")] = covered
    formula = row(kind="figure", id="formula", question="Ten?", **base)
    formula[HEADINGS.index("value")] = TableCell(formula='of:=CONCATENATE("3";"0 bar")')
    ods("spoilt.ods", [HEADINGS, *rows, merged, formula])
    many = row(kind="recall", id="many", question="Many?", point_1="One thing", **base)
    many[HEADINGS.index("point 1")] = repeated = TableCell(valuetype="string", numbercolumnsrepeated=2_000_000_000)
    repeated.addElement(P(text="x"))
    ods("repeated.ods", [HEADINGS, many])


questions_xlsx()
ods("questions.ods", [HEADINGS, *QUESTIONS])
questions_csv()
spoilt()
