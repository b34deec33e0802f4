"""Book → figures: rows laid out, every column computed exactly, and what came of it."""
