"""The one record for everything that the compiler has to tell its user.

Input: nothing of ours but spans. Output: `Finding` and its renderers. Not its job: to decide what is wrong.
"""

from fedfrom.findings.finding import Edit, Finding, Fix, Label, Severity, sort_findings

__all__ = ["Edit", "Finding", "Fix", "Label", "Severity", "sort_findings"]
