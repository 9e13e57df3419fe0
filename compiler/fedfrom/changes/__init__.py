"""What a change of the text brings about: `compare(old, new)`, and one file a form to print it in.

Input: two computed designs. Output: `Difference`, consequences with the chain of causes down to the line of text.
Not its job: to compile, to fetch a revision, or to draw.
"""
