"""Workbooks priced as they are saved, and what is double-clicked."""
