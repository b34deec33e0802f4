"""costbook: what each pack you sold cost, and what to charge, written into your own workbook."""

__version__ = "0.1.0"
