"""A workbook's file from the inside: our sheets are merged in, and nothing of theirs is touched."""
