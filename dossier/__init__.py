"""One build spec in, a proved and printable telescope plan out."""

__version__ = "0.1.0"
