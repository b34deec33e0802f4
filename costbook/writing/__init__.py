"""Book and figures → sheets: what stands where, each figure a live formula with its value."""
