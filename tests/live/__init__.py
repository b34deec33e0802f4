"""The written sheets against a new run: after any edit, every figure is what the engine gives."""
