"""The add-on, in a real LibreOffice: its commands are dispatched as the menu does."""
