"""Set-up."""
