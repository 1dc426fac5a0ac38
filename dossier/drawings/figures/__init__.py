"""What stands on the sheets of the drawing set, one figure a module, each drawn for paper and for phones."""
