"""The add-on for LibreOffice: built and installed here, and what runs inside it in ``office/``."""
