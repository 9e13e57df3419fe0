"""What the passes found out: plain typed records with provenance, and their public form `results.json`.

Input: values computed by passes. Output: `Results`, `Derivation`. Not its job: to compute, or to lay anything out.
"""
