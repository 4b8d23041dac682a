"""Operating cases of the power side: amps, volts, and every limit they are held against."""
