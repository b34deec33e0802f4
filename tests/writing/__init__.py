"""Tests of what is written on our sheets, part by part."""
