"""One-line diagrams of power, supply water and drains: laid out as plain values."""
