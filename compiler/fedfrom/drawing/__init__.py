"""Results -> placement -> routing -> a neutral `Scene` -> SVG, PDF, DXF.

Input: `Results` (and the network for topology). Output: scenes in inches on paper, y down. Writers only write a scene.
Not its job: to compute anything electrical.
"""
