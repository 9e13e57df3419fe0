"""The review checks: one file each, found by a folder scan.

Input: `Design`. Output: findings. Not its job: to compute values; a rule compares values that passes left.
"""
