"""The grammar and the vocabulary of the language, as data. Read through `fedfrom.vocabulary` and `fedfrom.syntax`."""
