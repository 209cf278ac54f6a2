"""The rooms: what the books say, painted, and forms that call the same acts as the commands."""
