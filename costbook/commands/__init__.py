"""The commands, one module each: one call that reads, costs, answers and prints."""
