"""One file a form (text, json, sarif, annotations), chosen by name."""
