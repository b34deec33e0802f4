"""One module for each of our sheets: what stands where on it."""
