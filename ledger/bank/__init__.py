"""The bank's word against hers: statements read, matched with entries, and agreed."""
