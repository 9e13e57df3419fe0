"""Templates of every written document. Read through `fedfrom.documents`."""
