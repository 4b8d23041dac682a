"""How numbers came about: the solver's own intermediate values, put into the trade's formulas."""
