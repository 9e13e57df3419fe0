"""The calculation book: every number with its derivation, in the order of the tree."""
