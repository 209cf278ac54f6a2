"""The forms of the acts: they check as one types, say what is wrong beside the field, and lose nothing."""
