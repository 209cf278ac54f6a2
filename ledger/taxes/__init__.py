"""Sales tax: dated rates, what she was told about each class, certificates, and the tax on a slip."""
