"""The person's one copy of their workbook: backed up, replaced in one step, or left as it was."""
