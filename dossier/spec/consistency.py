"""What the keys of a spec must have in common: references, prices, choices that exclude each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from dossier import shelf
from dossier.errors import did_you_mean
from dossier.spec import keys
from dossier.spec.defaults import slug
from dossier.spec.deferred import OPENS
from dossier.spec.entries import ByKey, Entry, ShelfOrMap
from dossier.spec.model import Build
from dossier.spec.model_parts import Cut
from dossier.spec.model_structure import Spring
from dossier.spec.quantities import shorten

Fault = tuple[str, str]  # key path, message
# A page draws two keys at most, and a publish waits for its points.
MOST_VARIED, MOST_ON_A_PAGE = 2, 400


def faults(build: Build) -> Iterator[Fault]:
    """Everything that does not agree, each with its key."""
    yield from _names(build)
    yield from _prices(build)
    yield from _goals(build)
    yield from _changes(build)
    if build.explore:
        yield from _studies(build)
    yield from _adjusters(build)
    yield from _stocks(build)
    yield from _threads(build)


def _names(build: Build) -> Iterator[Fault]:
    yield from _unique((f"parts[{place}].ref", part.ref) for place, part in enumerate(build.parts))
    yield from _unique((f"notes[{place}].id", note.id) for place, note in enumerate(build.notes))
    yield from _unique_slugs((f"eyepieces[{place}].name", piece.name) for place, piece in enumerate(build.eyepieces))
    groups: dict[str, str] = {}
    for place, part in enumerate(build.parts):
        groups.setdefault(part.group or "", f"parts[{place}].group")
    yield from _unique_slugs(((key, name) for name, key in groups.items() if name),
                             "write them alike or name them apart")
    refs = [part.ref for part in build.parts]
    for place, note in enumerate(build.notes):
        for item, ref in enumerate(note.parts):
            if ref not in refs and note.closed_by is None:  # a closed one may be of a part that there was
                yield f"notes[{place}].parts[{item}]", f"is no reference of a part (got {ref}){did_you_mean(ref, refs)}"


def _unique(named: Iterable[tuple[str, str]]) -> Iterator[Fault]:
    seen: dict[str, str] = {}
    for key, name in named:
        if name in seen:
            yield key, f"is used twice, first at {seen[name]} (got {name})"
        seen.setdefault(name, key)


def _unique_slugs(named: Iterable[tuple[str, str]], remedy: str = "name them apart") -> Iterator[Fault]:
    seen: dict[str, tuple[str, str]] = {}
    for key, name in named:
        short = slug(name)
        if not short:
            yield key, f"needs a letter from a to z or a digit, from which its ID is made (got {shorten(name)})"
        elif short in seen:
            other, first = seen[short]
            yield key, f"gives the same ID, {short}, as {first} at {other}; {remedy} (got {shorten(name)})"
        else:
            seen[short] = (key, name)


def _prices(build: Build) -> Iterator[Fault]:
    if build.readers.currency is None:
        priced = next(_priced(build), None)
        if priced:
            yield priced, "is a price, so readers.currency must say in what, such as EUR"


def _priced(build: Build) -> Iterator[str]:
    if build.printer and build.printer.spool_price is not None:
        yield "printer.spool_price"
    for place, part in enumerate(build.parts):
        if part.price is not None:
            yield f"parts[{place}].price"
        for other, choice in enumerate(part.instead):
            if choice.price is not None:
                yield f"parts[{place}].instead[{other}].price"


def _goals(build: Build) -> Iterator[Fault]:
    seen: dict[tuple[str, str], str] = {}
    for place, goal in enumerate(build.goals):
        key = f"goals[{place}]"
        said = [sense for sense in ("at_least", "at_most") if getattr(goal, sense) is not None]
        if not said:
            yield key, "needs at_least or at_most, such as at_least: 0.8"
        if len(said) > 1:
            yield key, "has at_least and at_most; make two goals of it"
        for sense in said:
            if (goal.result, sense) in seen:
                yield key, f"says {sense} for {goal.result} again, first at {seen[goal.result, sense]}"
            seen.setdefault((goal.result, sense), key)


def _changes(build: Build) -> Iterator[Fault]:
    """Keys named by other keys, and the values they are given."""
    for place, part in enumerate(build.parts):
        for other, choice in enumerate(part.instead):
            yield from _named(choice.set, f"parts[{place}].instead[{other}].set")
    if build.tolerances:
        yield from _tolerances(build)


def _tolerances(build: Build) -> Iterator[Fault]:
    from dossier.spec import ranges  # few builds have any, and a check is counted in milliseconds

    for key, value in build.tolerances.items():
        try:
            ranges.read_tolerance(key, value)
        except (KeyError, ValueError) as error:
            yield f"tolerances.{key}", str(error.args[0])


def _studies(build: Build) -> Iterator[Fault]:
    """Studies whose ranges can be read, with parts that have another choice, and points that can all be worked out."""
    from dossier.spec import ranges

    for place, study in enumerate(build.explore):
        section = f"explore[{place}]"
        found = []
        for key, said in study.vary.items():
            try:
                found.append(ranges.read_range(key, said))
            except ValueError as error:
                yield f"{section}.vary.{key}", str(error)
        if not study.vary and not study.choose:
            yield section, "needs vary or choose, such as vary: {primary.focal_length: 900 mm:1500 mm:50 mm}"
        if len(study.vary) > MOST_VARIED:
            yield f"{section}.vary", f"names {len(study.vary)} keys; one or two can be told on a page"
        for item, ref in enumerate(study.choose):
            if fault := choice_fault(build, ref):
                yield f"{section}.choose[{item}]", fault
        points = ranges.size_of(iter(found))
        if len(found) == len(study.vary) and points > MOST_ON_A_PAGE:
            yield section, f"has {points} points; a page has room for {MOST_ON_A_PAGE}: take a longer step"


def choice_fault(build: Build, ref: str) -> str:
    """Why the part of this reference has no other choice to try; empty where it has."""
    part = next((each for each in build.parts if each.ref == ref), None)
    if part is None:
        return f"is no reference of a part (got {ref}){did_you_mean(ref, [each.ref for each in build.parts])}"
    return "" if part.instead else f"names a part without another choice below instead (got {ref})"


def _named(changes: Mapping[str, Any], section: str) -> Iterator[Fault]:
    for key, value in changes.items():
        path = f"{section}.{key}"
        try:
            entry = keys.find(key).entry
        except KeyError as error:
            yield path, str(error.args[0])
            continue
        if isinstance(entry, ShelfOrMap) and isinstance(value, Mapping):
            yield from _described(value, entry, path)
            continue
        if not isinstance(entry, Entry) or isinstance(entry, ByKey):
            yield path, "cannot be changed as a whole; name one of its values"
            continue
        try:
            entry.read(value)
        except ValueError as error:
            yield path, str(error)


def _described(properties: Mapping[str, Any], entry: ShelfOrMap, section: str) -> Iterator[Fault]:
    """What is wrong with a material that is described in place of a key of the shelf."""
    known = keys.known_keys(entry.model)
    for name, value in properties.items():
        path = f"{section}.{name}"
        if name not in known:
            yield path, f"is no property of a material{did_you_mean(name, known)}"
        elif isinstance(value, str) and OPENS in value:
            yield path, "wants a value of its own, not an expression"
        elif isinstance(property_ := known[name].entry, Entry):
            try:
                property_.read(value)
            except ValueError as error:
                yield path, str(error)


def _adjusters(build: Build) -> Iterator[Fault]:
    push = build.cell.push if build.cell else None
    if push is None:
        return
    if push.force is not None and push.spring is not None:
        yield "cell.push.force", "stands beside cell.push.spring, which sets the force already; remove one"
    if push.spring:
        yield from _spring(push.spring)


def _spring(spring: Spring) -> Iterator[Fault]:
    wound = {"wire": spring.wire, "mean_diameter": spring.mean_diameter, "active_coils": spring.active_coils}
    said = [name for name, value in wound.items() if value is not None]
    if said and spring.rate is not None:
        yield "cell.push.spring.rate", f"stands beside {said[0]}, from which the rate follows; remove one"
    missing = [name for name in wound if name not in said]
    if said and missing:
        yield "cell.push.spring", f"has {said[0]} and so needs {' and '.join(missing)} as well"
    if said and spring.material is None:
        yield "cell.push.spring", f"has {said[0]} and so needs material as well, such as spring-steel"


def _stocks(build: Build) -> Iterator[Fault]:
    seen: dict[str, tuple[str, Cut]] = {}
    for place, part in enumerate(build.parts):
        if part.cut is None:
            continue
        key = f"parts[{place}].cut"
        yield from _pieces(part.cut, key)
        short = slug(part.cut.from_)
        if not short:
            yield f"{key}.from", f"needs a letter from a to z or a digit (got {shorten(part.cut.from_)})"
        first, cut = seen.setdefault(short, (key, part.cut))
        for name in ("stock_length", "stock_width", "kerf", "trim"):
            here, there = getattr(part.cut, name), getattr(cut, name)
            if here is not None and there is not None and here != there:
                yield f"{key}.{name}", f"is not the same as for the same stock at {first} ({here:g} mm, {there:g} mm)"
        if part.cut.is_sheet != cut.is_sheet:
            sheet, lengths = (key, first) if part.cut.is_sheet else (first, key)
            yield f"{key}.from", f"is a sheet at {sheet} and no sheet at {lengths}; name the stocks apart"
    yield from _stock_prices(build)


def _stock_prices(build: Build) -> Iterator[Fault]:
    """One stock has one price for a length, whichever part says it, and is not paid for by the part as well."""
    seen: dict[str, tuple[str, float]] = {}
    priced = [(f"parts[{place}]", part, part.cut) for place, part in enumerate(build.parts)
              if part.cut and part.price is not None and part.get != "have"]
    by_length = {slug(cut.from_): key for key, _, cut in reversed(priced) if cut.by_length}
    for part_key, part, cut in priced:
        if cut.is_sheet and cut.price_of == "length":
            yield f"{part_key}.cut.price_of", "is length, but its stock is a sheet; leave it out"
        if not cut.by_length:
            if (paying := by_length.get(slug(cut.from_))) is not None:
                yield f"{part_key}.cut.price_of", (f"is part, but {paying} pays for {cut.from_} by the length; say "
                                                   "price_of: length here too, or leave the price out")
            continue
        key = f"{part_key}.price"
        assert part.price is not None
        first, price = seen.setdefault(slug(cut.from_), (key, part.price))
        if part.price < price or part.price > price:  # one that is still an expression is neither
            yield key, (f"is of a length of {cut.from_} and not the same as at {first} ({part.price:g}, "
                        f"{price:g}); say it once, or name the stocks apart")


def _pieces(cut: Cut, key: str) -> Iterator[Fault]:
    if not cut.pieces:
        yield f"{key}.pieces", "wants at least one piece"
    usable = cut.stock_length - (cut.trim or 0)
    for place, piece in enumerate(cut.pieces):
        if piece.width is None and cut.is_sheet:
            yield f"{key}.pieces[{place}]", "is a piece of sheet and needs width as well, such as width: 300 mm"
        if piece.length > usable:
            trimmed = f" less {cut.trim:g} mm of trim" if cut.trim else ""
            yield (f"{key}.pieces[{place}].length",
                   f"is longer than its stock: {piece.length:g} mm from {cut.stock_length:g} mm{trimmed}")
        if piece.width is not None and cut.stock_width is not None and piece.width > cut.stock_width:
            yield (f"{key}.pieces[{place}].width",
                   f"is wider than its stock: {piece.width:g} mm from {cut.stock_width:g} mm")


def _threads(build: Build) -> Iterator[Fault]:
    for place, part in enumerate(build.parts):
        if part.holds is None:
            continue
        key, known = f"parts[{place}].holds", shelf.threads().threads
        if part.holds.thread not in known:
            yield f"{key}.thread", f"wants one of {', '.join(known)} (got {shorten(part.holds.thread)})"
        if part.holds.hole is not None and part.holds.how != "insert":
            yield f"{key}.hole", f"is of an insert's hole, but how says {part.holds.how}; remove one"
