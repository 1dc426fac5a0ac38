"""Tests against published numbers: one file a source.

``@pytest.mark.proves("airy_diameter_um", source="born-wolf-1999", known="recalled")`` stands above a test that checks
a formula against a number its source prints. ``known`` says how the number is known: ``read`` (the source or a
quotation of it was read), ``worked`` (its formula was read and the number computed from it) or ``recalled`` (from
memory, recomputed and it agreed). ``tests/test_formulas.py`` reads these marks.
"""

import pytest


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "proves(formula, ..., source, known): checks formulas against published numbers")
