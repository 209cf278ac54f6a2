"""What goes out and what passes between the two purses."""
