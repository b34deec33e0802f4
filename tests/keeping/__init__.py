"""Tests of writing into the person's own workbook, part by part."""
