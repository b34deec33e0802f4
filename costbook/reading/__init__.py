"""Workbook → Book: tables found, cells parsed once, and every doubt said."""
