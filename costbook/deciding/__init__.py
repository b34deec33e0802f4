"""Figures → answers: packs compared, prices moved, turning prices, trials."""
