"""The everyday decisions: which pack, what moved, try a change."""
