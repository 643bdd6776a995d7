"""Reads a workbook from standard input with openpyxl and tells its sheets as JSON."""
import io
import json
import sys

import openpyxl

book = openpyxl.load_workbook(io.BytesIO(sys.stdin.buffer.read()))
json.dump([{
    "title": sheet.title,
    "freeze": sheet.freeze_panes,
    "filter": sheet.auto_filter.ref,
    "rows": [[c.value for c in row] for row in sheet.iter_rows()],
    "types": [[c.data_type for c in row] for row in sheet.iter_rows()],
    "bold": bool(sheet["A1"].font.b),
    "widths": [sheet.column_dimensions[openpyxl.utils.get_column_letter(i + 1)].width for i in range(sheet.max_column)],
} for sheet in book.worksheets], sys.stdout)
