"""Writing back into the person's own workbook, through the command line."""
