"""Tests of costing, part by part: what a workbook, drawn as text, comes to."""
