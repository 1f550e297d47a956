"""What is laid out or cut to be counted: patterns, borders, strips of fabric, stock lengths."""
