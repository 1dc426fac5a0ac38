"""How numbers, units, symbols and formulas are written: for pages as HTML, for the terminal as plain text.

Symbols are italic and units upright (ISO 80000); a thin no-break space stands between number and unit, and none before
″, ′ and °; minus is a true minus. A formula is HTML spans, since the packet's engine draws no MathML.
"""

from __future__ import annotations

from dossier.notation.durations import duration
from dossier.notation.formulas import rule_html, rule_plain, working_html, working_plain
from dossier.notation.numbers import METRIC, Readers, Shown, show, show_limit, show_result
from dossier.notation.symbols import Symbol, symbol

__all__ = [
    "METRIC", "Readers", "Shown", "Symbol", "duration", "rule_html", "rule_plain", "show", "show_limit",
    "show_result", "symbol", "working_html", "working_plain",
]
