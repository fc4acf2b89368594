"""Tables that come in from elsewhere, as CSV or XLSX: the one way in for whatever stands in lines.

A table is opened (`open_table`), its columns are matched with what is wanted (`suggest`, then a person's
word), and its lines are read one by one, good or with what is wrong (`read_lines`). What the lines
become is the services' matter.
"""

from shopdesk.exchange.tables_in.columns import Line, Matching, Wanted, missing, read_lines, suggest
from shopdesk.exchange.tables_in.source import Table, open_table

__all__ = [
    "Line",
    "Matching",
    "Table",
    "Wanted",
    "missing",
    "open_table",
    "read_lines",
    "suggest",
]
