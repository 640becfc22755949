"""Trains the head that finds mentions of people, places and things, on a finished, frozen reader (minutes on a CPU).

    python3 names.py --data .data --model out --out out/names.npz

Every span of up to SPAN_LONGEST words of a sentence gets a score for each kind
of thing and 0 for none: how its first word, its last word and its head go
together (three small bilinear forms), what each of the three is like, how long
it is, and whether the reader's own tree holds it together. A mention that lies
across another is never read. LitBank teaches the kinds; GUM's entities, with
kinds of their own that are thrown away, help to learn where mentions end.

The reader has seen LitBank's labels (finetune.py), so its vectors of LitBank's
training part are better than they will be on new text: it reads that part with
words hidden and forgotten. A sixth of the training documents is held out for
choices (--choose); the dev documents are only scored.
"""
import argparse
import numpy as np, torch, torch.nn as nn, torch.nn.functional as F
from data import ROW, Data, pack
from evaluate import best_tree
from features import NV
from senses import restore

SPAN_DIM, SPAN_LONGEST = 64, 32
KINDS = ["PER", "LOC", "GPE", "FAC", "VEH", "ORG"]
ENTITIES = ["person", "place", "organization", "object", "event", "time", "abstract", "animal", "plant", "substance"]


def windows(at, seg, first):
    """What the tree says of every span of up to SPAN_LONGEST places.

    at: head of each place; first: the marks before sentences. Returns, for
    [row, start, length - 1]: ok (inside one sentence), head (the place nearest
    the root, the first of several), outer (words whose head is outside: 1 for
    what hangs together) and missing (words outside that hang on one inside).
    """
    B, n = at.shape
    W, dev = SPAN_LONGEST, at.device
    place = torch.arange(n, device=dev)
    up = torch.where(first, place, at)
    depth, cur = torch.zeros_like(at), up
    for _ in range(40):
        depth = depth + (~first.gather(1, cur)).long()
        cur = up.gather(1, cur)
    wide = lambda t, fill: F.pad(t, (0, W - 1), value=fill).unfold(1, W, 1)
    head = wide(depth * 512 + place, 1 << 20).cummin(-1).values % 512
    ok = (wide(seg, 0) == seg[..., None]) & (seg > 0)[..., None] & ~first[..., None]
    lo, hi = torch.minimum(up, place), torch.maximum(up, place)
    arcs = torch.zeros(B, n, n, device=dev)
    arcs.view(B, -1).scatter_add_(1, lo * n + hi, (~first).float())
    arcs = arcs.cumsum(2).flip(1).cumsum(1).flip(1)  # [i, j]: both ends in i..j
    end = (place[:, None] + torch.arange(W, device=dev)).clamp(max=n - 1)
    inside = arcs.view(B, -1)[:, (place[:, None] * n + end).view(-1)].view(B, n, W)
    held = torch.zeros(B, n + 1, device=dev).scatter_add_(1, up + 1, (~first).float()).cumsum(1)
    held = held[:, end + 1] - held[:, place][..., None]
    length = torch.arange(1, W + 1, device=dev)
    outer = (length - inside).round().long().clamp(1, 4) - 1
    missing = (held - inside).round().long().clamp(0, 3)
    return ok, head.clamp(max=n - 1), outer, missing


class Kinds(nn.Module):
    def __init__(self, d, kinds):
        super().__init__()
        self.t = nn.Linear(d, 3 * kinds)  # a word as the first, the last and the head of a span of each kind
        self.length, self.outer, self.missing = (nn.Parameter(torch.zeros(k, kinds)) for k in (SPAN_LONGEST, 4, 4))
        nn.init.constant_(self.length, -5.0)

    def forward(self, h, m, win):
        _, head, outer, missing = win
        B, n, W = head.shape
        a, b, c = self.t(h).chunk(3, -1)
        end = (torch.arange(n)[:, None] + torch.arange(W)).clamp(max=n - 1)
        z = m[..., None] + a[:, :, None] + b[:, end] + c.gather(1, head.view(B, -1, 1).expand(-1, -1, a.shape[-1])).view(B, n, W, -1)
        return F.pad(z + self.length + F.embedding(outer, self.outer) + F.embedding(missing, self.missing), (1, 0))


class Mentions(nn.Module):
    def __init__(self, d, drop):
        super().__init__()
        self.sp = nn.Linear(d, 3 * SPAN_DIM)
        self.se, self.sh, self.eh = (nn.Parameter(torch.randn(SPAN_DIM, SPAN_DIM) * 0.05) for _ in range(3))
        self.named, self.entity, self.p = Kinds(d, len(KINDS)), Kinds(d, len(ENTITIES)), drop

    def forward(self, h, win, kinds):
        drop = lambda t: F.dropout(t, self.p, self.training)
        h = drop(h)
        s, e, g = (drop(F.relu(t)) for t in self.sp(h).chunk(3, -1))
        se, sh, eh = (s @ self.se) @ e.transpose(1, 2), (s @ self.sh) @ g.transpose(1, 2), (e @ self.eh) @ g.transpose(1, 2)
        B, n, W = win[1].shape
        place = torch.arange(n)[:, None]
        end = (place + torch.arange(W)).clamp(max=n - 1)
        pick = lambda t, i: t.reshape(B, n * n).gather(1, i.reshape(B, -1)).view(B, n, W)
        m = pick(se, (place * n + end).expand(B, -1, -1)) + pick(sh, place * n + win[1]) + pick(eh, end * n + win[1])
        return kinds(h, m, win)


def read(m, d, sents, noise, rng):
    """Packed rows of sentences as the reader sees them: vectors, trees, and where each sentence stands."""
    rows = pack([len(s["ids"]) + 1 for s in sents], range(len(sents)))
    out = []
    for k in range(0, len(rows), 16):
        part = rows[k:k + 16]
        ids, seg = np.zeros((len(part), ROW), np.int64), np.zeros((len(part), ROW), np.int64)
        where = []
        for r, row in enumerate(part):
            at = 0
            for j, i in enumerate(row):
                n = len(sents[i]["ids"]) + 1
                ids[r, at] = 1; ids[r, at + 1:at + n] = sents[i]["ids"]; seg[r, at:at + n] = j + 1
                where.append((r, at, n, i)); at += n
        b = {x: torch.from_numpy(v) for x, v in d.words(ids, ids.size + 1).items()}
        flat = b["flat"].clone()
        if noise:
            own = flat[b["first"]]
            flat[b["first"]] = torch.where((torch.rand(own.shape) < 3 * noise) & (own > 3), torch.full_like(own, NV), own)
        hide = torch.from_numpy((rng.random(ids.shape) < noise) & (ids > 1))
        sg = torch.from_numpy(seg)
        with torch.no_grad():
            m.enc.train(noise > 0)
            h = m.enc.core(m.enc.words(b, flat), b["inv"], hide, sg, noise)
            m.eval()
            o = m.heads(h, sg, None, 0.0)
        arc, u = o["a"].log_softmax(-1).numpy(), o["u"].argmax(-1).numpy()
        at = np.zeros(ids.shape, np.int64)
        for r, lo, n, i in where:
            at[r, lo:lo + n] = best_tree(arc[r, lo:lo + n, lo:lo + n]) + lo
        for r in range(len(part)):
            out.append(dict(h=h[r].half(), at=at[r], seg=seg[r], first=ids[r] == 1, u=u[r], where=[w[1:] for w in where if w[0] == r]))
    return out


def batch(rows):
    t = lambda k: torch.from_numpy(np.stack([r[k] for r in rows]))
    return torch.stack([r["h"] for r in rows]).float(), windows(t("at"), t("seg"), t("first"))


def gold(rows, sents, key, kinds):
    y = np.zeros((len(rows), ROW, SPAN_LONGEST), np.int64)
    for r, row in enumerate(rows):
        for lo, n, i in row["where"]:
            for a, b, k in sents[i][key] or ():
                if b - a <= SPAN_LONGEST:
                    y[r, lo + 1 + a, b - a - 1] = 1 + kinds.index(k)
    return torch.from_numpy(y)


def likeliest(z):
    """The mentions of a sentence by its spans' likelihoods [start, length - 1, 0 or kind]: the likeliest first, none that crosses another."""
    kind = z.argmax(-1)
    i, l = np.nonzero(kind)
    order = np.argsort(-z[i, l, kind[i, l]], kind="stable")
    kept = []
    for a, b, k in zip(i[order], (i + l + 1)[order], kind[i, l][order]):
        if all(b <= c or d <= a or (a <= c and d <= b) or (c <= a and b <= d) for c, d, _ in kept):
            kept.append((int(a), int(b), KINDS[k - 1]))
    return set(kept)


def score(nets, rows, sents, propn):
    c, per = np.zeros(3), np.zeros(3)
    for k in range(0, len(rows), 16):
        h, win = batch(rows[k:k + 16])
        with torch.no_grad():
            z = sum(net(h, win, net.named).softmax(-1) for net in nets) / len(nets) * win[0][..., None]
        for r, row in enumerate(rows[k:k + 16]):
            for lo, n, i in row["where"]:
                want, got = set(sents[i]["spans"]), likeliest(z[r, lo + 1:lo + n].numpy())
                c += (len(want & got), len(got), len(want))
                named = lambda s: s[2] == "PER" and (row["u"][lo + 1 + s[0]:lo + 1 + s[1]] == propn).any()
                g, p = {s for s in want if named(s)}, {s for s in got if named(s)}
                per += (len(g & p), len(p), len(g))
    f = lambda v: tuple(round(float(x), 4) for x in (v[0] / max(1, v[1]), v[0] / max(1, v[2]), 2 * v[0] / max(1, v[1] + v[2])))
    return dict(all=f(c), people=f(per))


def main():
    ap = argparse.ArgumentParser()
    for n in ("data", "model", "out", "cache"):
        ap.add_argument("--" + n, default="")
    ap.add_argument("--steps", type=int, default=900); ap.add_argument("--lr", type=float, default=4e-3); ap.add_argument("--drop", type=float, default=0.3)
    ap.add_argument("--rows", type=int, default=24); ap.add_argument("--entities", type=float, default=0.15); ap.add_argument("--noise", type=float, default=0.08)
    ap.add_argument("--passes", type=int, default=3); ap.add_argument("--choose", action="store_true"); ap.add_argument("--seed", type=int, default=0)
    a = ap.parse_args()
    torch.manual_seed(a.seed); rng = np.random.default_rng(a.seed)
    d = Data(a.data)
    docs = sorted({s["doc"] for s in d.ner["train"]})
    held = set(docs[2::6])
    some = [s for s in d.ner["train"] if s["doc"] in held]
    train = [s for s in d.ner["train"] if not (a.choose and s["doc"] in held)]
    gum = [s for s in d.gold["gum-train"] if s["ents"] is not None]
    try:
        R = torch.load(a.cache)
    except OSError:
        m = restore(a.model, d)
        R = dict(train=[r for _ in range(a.passes) for r in read(m, d, d.ner["train"], a.noise, rng)], some=read(m, d, some, 0.0, rng),
                 dev=read(m, d, d.ner["dev"], 0.0, rng), gum=read(m, d, gum, a.noise, rng))
        if a.cache:
            torch.save(R, a.cache)
    keep = {i for i, s in enumerate(d.ner["train"]) if not (a.choose and s["doc"] in held)}
    rows = [dict(r, where=[w for w in r["where"] if w[2] in keep]) for r in R["train"]]
    for r in rows:  # what is held out is not in any span
        ok = np.zeros(ROW, bool)
        for lo, n, _ in r["where"]:
            ok[lo:lo + n] = True
        r["seg"] = np.where(ok, r["seg"], 0)
    propn = d.sets["U"].index("PROPN")
    net = Mentions(R["dev"][0]["h"].shape[-1], a.drop)
    opt = torch.optim.AdamW(net.parameters(), lr=a.lr, betas=(0.9, 0.98), weight_decay=0.01)

    def loss_of(part, sents, key, kinds, names):
        h, win = batch(part)
        z, y = net(h, win, kinds), gold(part, sents, key, names)
        return F.cross_entropy(z[win[0]], y[win[0]], reduction="sum") / sum(w[1] for r in part for w in r["where"])

    order, other, total = [], [], 0.0
    for step in range(a.steps):
        net.train()
        for g in opt.param_groups:
            g["lr"] = a.lr * min(1, (step + 1) / 50) * (1 - step / a.steps)
        if len(order) < a.rows:
            order = list(rng.permutation(len(rows)))
        if len(other) < a.rows:
            other = list(rng.permutation(len(R["gum"])))
        loss = loss_of([rows[order.pop()] for _ in range(a.rows)], d.ner["train"], "spans", net.named, KINDS)
        if a.entities:
            loss = loss + a.entities * loss_of([R["gum"][other.pop()] for _ in range(a.rows)], gum, "ents", net.entity, ENTITIES)
        opt.zero_grad(); loss.backward(); nn.utils.clip_grad_norm_(net.parameters(), 1.0); opt.step()
        total = 0.98 * total + 0.02 * loss.item()
        if step % 300 == 299 or step == a.steps - 1:
            net.eval()
            print("step", step, "loss %.3f" % total, "held out", score([net], R["some"], some, propn) if a.choose else "", "dev", score([net], R["dev"], d.ner["dev"], propn) if not a.choose else "", flush=True)
    if a.out:
        np.savez(a.out, **{k: v.detach().numpy() for k, v in net.state_dict().items() if not k.startswith("entity.")})


if __name__ == "__main__":
    main()
