"""A quotes workbook to fill: its sheets, checks, marks, lists and looks."""
