"""Every act once: what rooms and commands both call. Each is one transaction, or nothing."""
