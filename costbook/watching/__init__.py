"""Workbooks priced as they are saved: what changed in a folder, and what is done about it."""
