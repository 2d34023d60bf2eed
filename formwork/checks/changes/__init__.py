"""What may be changed of a mold that fails a check: a file for each mold method, of the method's own name."""
