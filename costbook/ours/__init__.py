"""What comes back on our own sheets: what a page keeps, and what somebody typed there."""
