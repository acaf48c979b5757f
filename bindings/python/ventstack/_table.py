# SPDX-License-Identifier: GPL-3.0-or-later
"""Tables to read: aligned text and HTML."""

import html
import math


def figures(value, digits):
    """A number with so many decimal places; nothing for NaN, no minus before a bare zero."""
    if math.isnan(value):
        return ""
    text = f"{value:.{digits}f}"
    return text[1:] if float(text) == 0 and text.startswith("-") else text


def places(unit, finest):
    """Decimal places that show `finest` (SI) in a unit."""
    return max(0, math.ceil(-math.log10(finest / unit) - 1e-9))


def cells(columns):
    """Columns of (head, decimal places, values) as texts: heads, rows, and which are numbers.

    A column without decimal places holds text.
    """
    texts = [values if digits is None else [figures(value, digits) for value in values]
             for _, digits, values in columns]
    return ([head for head, _, _ in columns], list(zip(*texts)),
            [digits is not None for _, digits, _ in columns])


def _two_rows(head):
    """A head split before its unit."""
    name, bracket, unit = head.partition(" [")
    return name, (bracket + unit).strip()


def as_text(columns):
    """The table as aligned text."""
    heads, rows, numeric = cells(columns)
    tops = [_two_rows(head) for head in heads]
    table = [[top for top, _ in tops], [bottom for _, bottom in tops], *rows]
    widths = [max(len(row[i]) for row in table) for i in range(len(heads))]
    lines = ["  ".join(cell.rjust(width) if number else cell.ljust(width)
                       for cell, width, number in zip(row, widths, numeric)).rstrip()
             for row in table]
    return "\n".join([*lines[:2], "-" * (sum(widths) + 2 * len(widths) - 2), *lines[2:]])


def as_html(columns):
    """The table as HTML."""
    heads, rows, numeric = cells(columns)
    style = ' style="text-align: right"'
    def row_of(tag, row):
        return "".join(f"<{tag}{style if number else ''}>{html.escape(cell)}</{tag}>"
                       for cell, number in zip(row, numeric))
    body = "\n".join(f"<tr>{row_of('td', row)}</tr>" for row in rows)
    return (f"<table>\n<thead><tr>{row_of('th', heads)}</tr></thead>\n"
            f"<tbody>\n{body}\n</tbody>\n</table>")
