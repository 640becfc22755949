"""Words to rows of the embedding table, and lemmas to edit rules.

internal/lang/neural/features.go does the same in Go; the two must agree to the
last row (the fixture written by export.py tests it).
"""
import re, zlib

K = 24  # rows a word adds up, at most
NV = 20000  # rows for frequent words (the last one stands for all others)
NB = 40000  # rows for hashed pieces
NF = 1 + NV + NB + 8  # row 0 is padding, the last 8 are letter shapes


def norm(w):
    """The spelling that the model sees: one kind of apostrophe and ellipsis."""
    if len(w) > 1:
        w = w.strip("_") or w
    if w in ("``", "''", "’’", "‘’"):
        return '"'
    if w == "‘":
        return "“"
    return w.replace("’", "'").replace("‘", "'").replace("`", "'").replace("…", "...")


def shape(w):
    letter, digit = any(c.isalpha() for c in w), any(c.isdigit() for c in w)
    if not letter:
        return 1 if digit else 0
    if digit:
        return 2
    if w == w.lower():
        return 3
    if len(w) == 1:
        return 4
    if w == w.upper():
        return 5
    if w[0] == w[0].upper() and w[1:] == w[1:].lower():
        return 6
    return 7


def feature_rows(w, vid):
    """Rows of a normalised word: itself, its shape, its affixes and n-grams."""
    low = w.lower()
    rows = [1 + vid.get(low, NV - 1), 1 + NV + NB + shape(w)]
    s = re.sub(r"[0-9]", "0", low)[:40]
    pieces = []
    if any(c.isalnum() for c in s):
        for n in (1, 2, 3, 4):
            if len(s) >= n:
                pieces.append("S" + s[-n:])
        for n in (1, 2, 3, 4):
            if len(s) >= n:
                pieces.append("P" + s[:n])
        b = "<" + s + ">"
        for n in (3, 4, 5):
            for j in range(len(b) - n + 1):
                pieces.append("G" + b[j:j + n])
    else:
        pieces.append("W" + s)
    for p in pieces:
        r = 1 + NV + zlib.crc32(p.encode("utf-8")) % NB
        if len(rows) < K and r not in rows[2:]:
            rows.append(r)
    return rows


def lemma_rule(form, lemma):
    """(case, letters cut from the end, ending added); cut -1: the ending is the whole lemma."""
    f, l = form.lower(), lemma.lower()
    case = 0 if lemma == l else (1 if lemma[:1].isupper() and lemma[1:] == l[1:] else 2)
    p = 0
    while p < len(f) and p < len(l) and f[p] == l[p]:
        p += 1
    if p == 0 and len(f) > 1:
        return (case, -1, l)
    return (case, len(f) - p, l[p:])


def apply_rule(form, rule):
    case, cut, end = rule
    f = form.lower()
    l = end if cut < 0 else f[:max(0, len(f) - cut)] + end
    return l if case == 0 else (l[:1].upper() + l[1:] if case == 1 else l.upper())
