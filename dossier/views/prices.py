"""What is wrong with the prices of a plan in words: what has none, and a pack that its cut contradicts."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.design.buying import WrongPack
from dossier.spec.model_parts import Part


def wrong_pack_words(pack: WrongPack) -> str:
    """How pack and cut disagree, what is bought, and the remedy."""
    sawn = "no piece" if not pack.sawn else f"{pack.sawn} piece{'' if pack.sawn == 1 else 's'}"
    remedy = ("the lengths of the cut plan are bought. Leave pack out" if pack.by_length else
              "packs are bought as typed. Say price_of: length in the cut, and leave pack out")
    return f"says that {pack.typed} of {pack.ref} come out of one length, but its cut gets {sawn} out of it; {remedy}"


def listed(parts: Sequence[Part]) -> str:
    """Parts by reference and name."""
    return ", ".join(f"{part.ref} {part.name}" for part in parts)
