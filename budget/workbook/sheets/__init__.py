"""The sheets of the quotes workbook, each described once."""
