"""What belongs to others, what is held for it, and what is due next."""
