"""What runs inside LibreOffice, in the Python that it brings along.

That Python has ``uno`` and the standard library, may be as old as 3.8, and knows nothing of the
rest of costbook: what is to be worked out is asked of costbook's own Python (``engine.py``).
"""
