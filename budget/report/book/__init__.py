"""The comparison workbook: a living spreadsheet of the comparison."""
