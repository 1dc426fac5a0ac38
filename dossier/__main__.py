"""``python -m dossier`` does what ``dossier`` does."""

from dossier.cli import main

main()
