"""Loads the packed arrays and serves batches of one fixed shape.

A batch names its words twice: `flat` and `off`, the embedding rows of each
different word as bags, and `inv`, which of them stands where. Sums
are so made once a word. Workers build batches; nothing here touches the GPU.
"""
import os, pickle
import numpy as np, torch
from features import K, NV

ROW = 128  # places in a packed row


class Data:
    def __init__(self, path):
        get = lambda n: np.load(os.path.join(path, n + ".npy"))
        self.feat, self.t2v = get("feat"), get("t2v").astype(np.int64)
        self.stream = get("stream_low").astype(np.int32) | (get("stream_high").astype(np.int32) << 16)
        with open(os.path.join(path, "sets.pkl"), "rb") as f:
            s = pickle.load(f)
        self.sets, self.gold, self.ner, self.wsd = s, s["gold"], s["ner"], s["wsd"]
        self.sizes = dict(U=len(s["U"]), X=len(s["X"]), F=len(s["F"]), L=len(s["L"]), D=len(s["D"]), S=len(s["stypes"]))
        table = s["table"]
        self.anc = np.zeros((len(table), 12), np.int64)
        for i, t in enumerate(table):
            self.anc[i, :len(t[4])] = t[4]
        self.rank = np.array([t[1] for t in table], np.int64)
        self.cnt = np.array([t[2] for t in table], np.float32)
        self.lex = np.array([t[3] for t in table], np.int64)

    def tables(self, dev):
        return tuple(torch.from_numpy(a).to(dev) for a in (self.anc, self.rank, self.cnt, self.lex))

    def words(self, ids, room):
        """The different words of ids as bags of rows (flat, off: one bag each, empty ones up to `room`), and which stands where."""
        u, inv = np.unique(ids, return_inverse=True)
        if len(u) > room:
            raise ValueError("%d different words, room for %d" % (len(u), room))
        f = self.feat[u]
        n = (f > 0).sum(1)
        flat = f[f > 0].astype(np.int64)
        off = np.full(room, len(flat), np.int64)
        off[:len(u)] = np.cumsum(n) - n
        return dict(flat=flat, off=off, first=off[:len(u)].copy(), inv=inv.reshape(ids.shape).astype(np.int64))

    def raw_sentences(self, low=3, high=80):
        starts = np.append(np.where(self.stream == 1)[0], len(self.stream))
        n = np.diff(starts) - 1
        return [(starts[i], starts[i + 1]) for i in np.where((n >= low) & (n <= high))[0]]


    def instances(self, inst, room, width=32):
        """Words to disambiguate: place and part of speech of each, its candidates and the right ones.

        pair_i, pair_c: which instance has which of the batch's different senses
        as its pair_k-th candidate; senses: rows of the table; chain, chain_off:
        their synsets and what lies above these, as bags.
        """
        place, pos, good = np.zeros(room, np.int64), np.zeros(room, np.int64), np.zeros((room, width), np.float32)
        pi, pk, pc = [], [], []
        for k, (p, c, g, po) in enumerate(inst):
            g = [j for j in g if j < width]
            if not g:
                continue
            c = c[:width]
            place[k], pos[k] = p, po
            good[k, g] = 1 / len(g)
            pi += [k] * len(c); pk += range(len(c)); pc += c
        u, inv = np.unique(np.array(pc, np.int64), return_inverse=True)
        f = self.anc[u]
        n = (f > 0).sum(1)
        return dict(place=place, pos=pos, good=good, pair_i=np.array(pi, np.int64), pair_k=np.array(pk, np.int64), pair_c=inv.reshape(-1).astype(np.int64),
                    senses=u, chain=f[f > 0], chain_off=np.cumsum(n) - n)


def pack(lengths, order, row=ROW, opened=24):
    """Puts sentences (of these lengths, [S] included) into rows; returns lists of indices."""
    rows, space, done = [], [], []
    for i in order:
        n = lengths[i]
        if n > row:
            continue
        best = -1
        for k, s in enumerate(space):
            if n <= s and (best < 0 or s < space[best]):
                best = k
        if best < 0:
            if len(rows) == opened:
                k = min(range(opened), key=space.__getitem__)
                done.append(rows.pop(k)); space.pop(k)
            rows.append([]); space.append(row)
            best = len(rows) - 1
        rows[best].append(i); space[best] -= n
    return done + rows


def forever(make):
    while True:
        yield from make()


class Mixed(torch.utils.data.IterableDataset):
    """Batches of gold trees, entities, senses and raw sentences, in this order of rows."""

    def __init__(self, data, gold, gold_rows, ner_rows, wsd_rows, raw_rows, room, seed, examples=True, inst=1536):
        self.d, self.gold, self.room, self.seed, self.inst = data, gold, room, seed, inst
        self.rows = (gold_rows, ner_rows, wsd_rows, raw_rows)
        self.wsd = list(data.wsd["train"]) + (list(data.wsd["examples"]) if examples else [])
        self.raw = None
        if raw_rows:  # packed once: rows are only shuffled between passes
            spans = data.raw_sentences()
            order = np.random.default_rng(seed).permutation(len(spans))
            rows = pack([b - a for a, b in spans], order)
            ids, seg = np.zeros((len(rows), ROW), np.int32), np.zeros((len(rows), ROW), np.int8)
            for r, row in enumerate(rows):
                at = 0
                for k, i in enumerate(row):
                    a, b = spans[i]
                    ids[r, at:at + b - a] = data.stream[a:b]; seg[r, at:at + b - a] = k + 1
                    at += b - a
            self.raw = (ids, seg)

    def packed(self, sents, rng):
        def make():
            order = rng.permutation(len(sents))
            rows = pack([len(s["ids"]) + 1 for s in sents], order)
            for i in rng.permutation(len(rows)):
                yield [sents[j] for j in rows[i]]
        return forever(make)

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = np.random.default_rng([self.seed, info.id if info else 0])
        G, N, W, R = self.rows
        its = [self.packed(s, rng) if n else None for s, n in ((self.gold, G), (self.d.ner["train"], N), (self.wsd, W))]
        raw = forever(lambda: iter(rng.permutation(len(self.raw[0])))) if R else None
        B = sum(self.rows)
        while True:
            ids, seg = np.zeros((B, ROW), np.int64), np.zeros((B, ROW), np.int64)
            y = np.full((6, max(G, 1), ROW), -100, np.int64)
            st = np.full((max(G, 1), ROW), -100, np.int64)
            ner = np.full((max(N, 1), 3, ROW), -100, np.int64)
            inst = []
            r = 0
            for kind, n in enumerate((G, N, W)):
                for _ in range(n):
                    at = 0
                    for k, s in enumerate(next(its[kind])):
                        w = s["ids"]
                        if kind == 0 and s["alts"] and rng.random() < 0.5:
                            w = s["alts"][rng.integers(len(s["alts"]))]
                        m = len(w)
                        ids[r, at] = 1; ids[r, at + 1:at + 1 + m] = w; seg[r, at:at + 1 + m] = k + 1
                        if kind == 0:
                            t = np.where(s["y"] < 0, -100, s["y"]); t[4] = s["y"][4] + at
                            y[:, r, at + 1:at + 1 + m] = t
                            st[r, at] = s["stype"] if s["stype"] >= 0 else -100
                        elif kind == 1:
                            ner[r - G, :, at + 1:at + 1 + m] = s["ner"]
                        else:
                            inst += [(r * ROW + at + 1 + i[0], i[1], i[2], i[3]) for i in s["inst"] if len(i[1]) > 1 and i[2]]
                        at += m + 1
                    r += 1
            if R:
                pick = [next(raw) for _ in range(R)]
                ids[r:] = self.raw[0][pick]; seg[r:] = self.raw[1][pick]
            if len(inst) > self.inst:
                inst = [inst[i] for i in rng.permutation(len(inst))[:self.inst]]
            I = self.inst if W else 1
            out = self.d.words(ids, self.room)
            out.update(ids=ids, seg=seg, y=y, st=st, ner=ner, **(self.d.instances(inst, I) if W else {}))
            yield {k: torch.from_numpy(v) for k, v in out.items()}


class Masked(torch.utils.data.IterableDataset):
    """Chunks of the raw stream with a quarter of the words to guess."""

    def __init__(self, data, rows, room, rate, seed, held):
        self.d, self.rows, self.room, self.rate, self.seed, self.held = data, rows, room, rate, seed, held

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = np.random.default_rng([self.seed, 7, info.id if info else 0])
        s, N = self.d.stream, len(self.d.stream)
        while True:
            off = rng.integers(0, N - ROW, self.rows)
            lo, hi = self.held
            off = np.where((off > lo - ROW) & (off < hi), (off + hi - lo + ROW) % (N - ROW), off)
            ids = s[off[:, None] + np.arange(ROW)]
            yield masked(self.d, ids, rng, self.rate, self.room)


def masked(d, ids, rng, rate, room):
    flat = ids.reshape(-1)
    m = rng.choice(flat.size, int(flat.size * rate), replace=False)
    y = d.t2v[flat[m]]
    y = np.where((y == NV - 1) | (flat[m] == 1), -100, y)
    r = rng.random(len(m))
    hide = np.zeros(flat.size, bool); hide[m[r < 0.8]] = True
    seen = flat.copy()
    other = m[r >= 0.9]
    seen[other] = d.stream[rng.integers(0, len(d.stream), len(other))]
    return {k: torch.from_numpy(v) for k, v in dict(d.words(seen.reshape(ids.shape), room), hide=hide.reshape(ids.shape), m=m, y=y).items()}


def loader(dataset, workers):
    return iter(torch.utils.data.DataLoader(dataset, batch_size=None, num_workers=workers, pin_memory=torch.cuda.is_available(),
                                            prefetch_factor=4 if workers else None if hasattr(torch, "compile") else 2))
