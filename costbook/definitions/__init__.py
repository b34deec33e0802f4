"""WHAT things are: rules, units, sheets and columns; no files, no spreadsheet library."""
