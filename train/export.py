"""Writes the weights that the program embeds, in 8 bits, and a fixture that checks the Go side.

    python3 export.py --data .data --model out --senses out/senses.npz --names out/names.npz --to ../internal/lang/neural

The format is described in internal/lang/neural/weights.go.
"""
import argparse, json, struct, zlib
import numpy as np, torch
from data import Data
from features import norm
from evaluate import best_tree
from names import Mentions, likeliest, windows
from senses import restore

POS = "nvar"
SENTENCES = [  # ours, made up for the fixture
    "The old gardener did n't answer her at once .",
    "“ Where have you been , Tom ? ” cried Mrs. Larkin , shaking the snow from her cloak .",
    "A LETTER FROM HOME",
    "He had never seen so many boats , ropes and barrels as lay along the quay that morning in Port Elder .",
    "Run , Nell !",
]


def quantise(w):
    """int8 rows and the scale of each."""
    s = np.maximum(np.abs(w).max(1), 1e-8) / 127
    return np.clip(np.rint(w / s[:, None]), -127, 127).astype(np.int8), s.astype(np.float32)


class Writer:
    def __init__(self):
        self.dir, self.blob = [], bytearray()

    def add(self, name, a, kind=None):
        a = np.ascontiguousarray(a)
        self.blob += b"\0" * (-len(self.blob) % 8)
        self.dir.append(dict(name=name, type=kind or {"float32": "f32", "int8": "i8", "uint8": "u8", "uint32": "u32"}[a.dtype.name],
                             shape=list(a.shape), at=len(self.blob)))
        self.blob += a.tobytes()

    def matrix(self, name, w, bias=None):
        q, s = quantise(w.astype(np.float32))
        self.add(name, q); self.add(name + ".scale", s)
        if bias is not None:
            self.add(name + ".bias", bias.astype(np.float32))


def main():
    ap = argparse.ArgumentParser()
    for n in ("data", "model", "senses", "names", "to"):
        ap.add_argument("--" + n, required=True)
    a = ap.parse_args()
    d = Data(a.data)
    m = restore(a.model, d)
    p = {k: v.detach().numpy().astype(np.float32) for k, v in m.state_dict().items()}
    s = dict(np.load(a.senses))
    w = Writer()
    w.matrix("emb", p["enc.emb"])
    for g in ("g0", "gl"):
        w.add(g, p["enc." + g])
    layers = len(m.enc.blocks)
    for i in range(layers):
        b = f"enc.blocks.{i}."
        for k in (1, 2):  # the norm's gain goes into the taps
            w.add(f"{i}.c{k}", p[b + f"c{k}"] * p[b + f"g{k}"][None])
        for k in ("qkv", "o", "f1", "f2"):
            w.matrix(f"{i}.{k}", p[b + k + ".weight"])
    for k in ("u", "x", "f", "s", "ad", "ah", "rd", "rh", "r"):
        w.matrix(k, p[k + ".weight"], p[k + ".bias"])
    net = Mentions(m.enc.d, 0.0)
    net.load_state_dict({k: torch.from_numpy(v) for k, v in np.load(a.names).items()}, strict=False)
    net.eval()
    n = {k: v.detach().numpy() for k, v in net.state_dict().items()}
    w.matrix("sp", n["sp.weight"], n["sp.bias"]); w.matrix("nt", n["named.t.weight"], n["named.t.bias"])
    w.matrix("span.s", np.concatenate([n["se"].T, n["sh"].T])); w.matrix("span.e", n["eh"].T)
    for k in ("length", "outer", "missing"):
        w.add("span." + k, n["named." + k])
    dim = m.enc.d
    w.matrix("q", s["q.weight"][:, :dim], s["q.bias"])
    w.matrix("W", p["W"].T)  # as a layer: out = in @ W
    w.add("wh", p["wh"])

    # senses: a vector for each synset, its parent, and every sense of a word with several
    table = d.sets["table"]
    syn = d.sets["synsets"]  # row r of E belongs to syn[r-1]
    q, sc = quantise(s["E"])
    w.add("E", q); w.add("E.scale", sc)
    w.add("lx", s["lx"]); w.add("rank", s["rank"]); w.add("count", s["count"])
    w.add("rowpos", np.array([0] + [POS.index(x[0]) for x in syn], np.uint8))
    parent = np.zeros(len(syn) + 1, np.uint32)
    for t in table[1:]:
        for lo, hi in zip(t[4], t[4][1:]):
            # a chain ends early for adjectives and adverbs: theirs is one step, held by "steps"
            if parent[lo] not in (0, hi):
                raise SystemExit("a synset with two parents")
            parent[lo] = hi
    w.add("parent", parent)
    rows = sorted((zlib.crc32(t[0].encode()), i) for i, t in enumerate(table) if i)
    if len({h for h, _ in rows}) != len(rows):
        print("sense keys that share a hash:", len(rows) - len({h for h, _ in rows}))
    order = [i for _, i in rows]
    w.add("sense.hash", np.array([h for h, _ in rows], np.uint32))
    w.add("sense.syn", np.array([table[i][4][0] for i in order], np.uint32))
    w.add("sense.rank", np.array([table[i][1] for i in order], np.uint8))
    w.add("sense.count", np.array([min(255, round(table[i][2] * 32)) for i in order], np.uint8))
    w.add("sense.lex", np.array([table[i][3] for i in order], np.uint8))
    meta = dict(dim=dim, layers=layers, vocabulary=d.sets["vocab"][3:], upos=d.sets["U"], xpos=d.sets["X"], feats=d.sets["F"],
                deprel=d.sets["D"], types=d.sets["stypes"], names=d.sets["ner_types"], tensors=w.dir)
    head = json.dumps(meta, ensure_ascii=False, separators=(",", ":")).encode()
    head += b" " * (-len(head) % 8)
    new = b"BKREAD01" + struct.pack("<Q", len(head)) + head + bytes(w.blob)
    keep_slot(a.to, new)
    with open(a.to + "/reader.bin", "wb") as f:
        f.write(new)
    print("bytes", len(new))

    fixture = []
    for text in SENTENCES:
        ws = text.split()
        types = [norm(x) for x in ws]
        h = vector_of(m, d, types)
        seg = torch.ones(1, len(ws) + 1, dtype=torch.long)
        with torch.no_grad():
            o = m.heads(h, seg, None, 0.0)
        heads = best_tree(o["a"][0].log_softmax(-1).numpy())
        with torch.no_grad():
            o = m.heads(h, seg, torch.from_numpy(heads)[None], 0.0)
        best = lambda k, names: [names[j] for j in o[k][0, 1:].argmax(-1).tolist()]
        at = torch.from_numpy(heads)[None]
        win = windows(at, seg, torch.arange(len(ws) + 1)[None] == 0)
        with torch.no_grad():
            z = net(h, win, net.named).softmax(-1) * win[0][..., None]
        found = sorted(likeliest(z[0, 1:].numpy()), key=lambda s: (s[0], -s[1]))
        fixture.append(dict(words=ws, upos=best("u", d.sets["U"]), xpos=best("x", d.sets["X"]), feats=best("f", d.sets["F"]),
                            head=[int(x) for x in heads[1:]], deprel=best("r", d.sets["D"]), type=d.sets["stypes"][int(o["s"][0, 0].argmax())],
                            vector=[round(float(x), 4) for x in h[0, 1]], upos_logits=[[round(float(x), 3) for x in r] for r in o["u"][0, 1:3]],
                            arc_logits=[round(float(x), 3) for x in o["a"][0, 1]], names=[list(x) for x in found]))
    with open(a.to + "/testdata/reference.json", "w") as f:
        json.dump(fixture, f, ensure_ascii=False, indent=0)


def encoder_of(b):
    """The bytes of a weights file's table and encoder."""
    n = struct.unpack("<Q", b[8:16])[0]
    t, out = json.loads(b[16:16 + n])["tensors"], {}
    for x in t:
        if x["name"][:3] in ("emb", "g0", "gl") or x["name"][0].isdigit():
            size = int(np.prod(x["shape"])) * {"f32": 4, "u32": 4}.get(x["type"], 1)
            out[x["name"]] = zlib.crc32(b[16 + n + x["at"]:16 + n + x["at"] + size])
    return out


def keep_slot(to, new):
    """The slot head asks only for the encoder: one that was learned on the same encoder is good for the new file."""
    try:
        old, slot = open(to + "/reader.bin", "rb").read(), bytearray(open(to + "/slot.bin", "rb").read())
    except OSError:
        return
    if struct.unpack("<I", slot[8:12])[0] == zlib.crc32(old) and encoder_of(old) == encoder_of(new):
        slot[8:12] = struct.pack("<I", zlib.crc32(new))
        open(to + "/slot.bin", "wb").write(bytes(slot))
        print("the slot head stays")


def vector_of(m, d, types):
    """The encoder's output for words that need not be in the packed data."""
    from features import feature_rows
    vid = {w: i for i, w in enumerate(d.sets["vocab"])}
    flat, off = [2], [0]  # [S]
    for t in types:
        off.append(len(flat)); flat += feature_rows(t, vid)
    b = dict(flat=torch.tensor(flat), off=torch.tensor(off))
    with torch.no_grad():
        return m.enc.core(m.enc.words(b), torch.arange(len(off))[None], None, torch.ones(1, len(off), dtype=torch.long), 0.0)


if __name__ == "__main__":
    main()
