"""Workbooks as small as can be, written from the standards of their forms."""

from __future__ import annotations

import io
import zipfile


def workbook(rows: list[list[str]], others: tuple[str, ...] = ()) -> bytes:
    """A workbook after ECMA-376 part 1 with one sheet; a cell ``=A1|3`` is a formula with its stored result."""
    space = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    package = "http://schemas.openxmlformats.org/package/2006"
    names = ("Mix", *others)
    sheets = "".join(f'<sheet name="{n}" sheetId="{k}" r:id="r{k}"/>' for k, n in enumerate(names, 1))
    relations = "".join(
        f'<Relationship Id="r{k}" Type="{office}/worksheet" Target="worksheets/sheet{k}.xml"/>'
        for k in range(1, len(names) + 1)
    )
    kinds = "".join(
        f'<Override PartName="/xl/worksheets/sheet{k}.xml" ContentType="application/vnd.openxmlformats-officedocument.'
        'spreadsheetml.worksheet+xml"/>'
        for k in range(1, len(names) + 1)
    )
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr(
            "[Content_Types].xml",
            f'<Types xmlns="{package}/content-types"><Default Extension="rels" ContentType="application/'
            'vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType='
            '"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
            f"{kinds}</Types>",
        )
        archive.writestr(
            "_rels/.rels",
            f'<Relationships xmlns="{package}/relationships"><Relationship Id="r1" Type="{office}/officeDocument" '
            'Target="xl/workbook.xml"/></Relationships>',
        )
        archive.writestr(
            "xl/workbook.xml", f'<workbook {space} xmlns:r="{office}"><sheets>{sheets}</sheets></workbook>'
        )
        archive.writestr(
            "xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{package}/relationships">{relations}</Relationships>'
        )
        body = "".join(f"<row r='{n}'>{_cells(n, row)}</row>" for n, row in enumerate(rows, 1))
        archive.writestr("xl/worksheets/sheet1.xml", f"<worksheet {space}><sheetData>{body}</sheetData></worksheet>")
        for k in range(2, len(names) + 1):
            archive.writestr(f"xl/worksheets/sheet{k}.xml", f"<worksheet {space}><sheetData/></worksheet>")
    return made.getvalue()


def _cells(number: int, row: list[str]) -> str:
    found = []
    for column, text in enumerate(row):
        place = f"{chr(ord('A') + column)}{number}"
        if text.startswith("="):
            formula, _, result = text[1:].partition("|")
            found.append(f'<c r="{place}"><f>{formula}</f><v>{result}</v></c>')
        elif text.lstrip("-").replace(".", "").isdigit():
            found.append(f'<c r="{place}"><v>{text}</v></c>')
        elif text:
            found.append(f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>')
    return "".join(found)


def spreadsheet(rows: list[list[str]]) -> bytes:
    """An OpenDocument spreadsheet (OASIS OpenDocument 1.3 part 3) with one table of texts and numbers."""
    cells = "".join(
        "<table:table-row>"
        + "".join(
            f'<table:table-cell office:value-type="float" office:value="{text}"><text:p>{text}</text:p>'
            "</table:table-cell>"
            if text.lstrip("-").replace(".", "").isdigit()
            else f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'
            for text in row
        )
        + "</table:table-row>"
        for row in rows
    )
    names = "".join(f' xmlns:{n}="urn:oasis:names:tc:opendocument:xmlns:{n}:1.0"' for n in ("office", "table", "text"))
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr(
            "content.xml",
            f'<office:document-content{names} office:version="1.3"><office:body><office:spreadsheet>'
            f'<table:table table:name="Mix">{cells}</table:table></office:spreadsheet></office:body>'
            "</office:document-content>",
        )
        archive.writestr(
            "META-INF/manifest.xml",
            '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>',
        )
    return made.getvalue()
