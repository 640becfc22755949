"""Trains the sense scorer anew on a finished, frozen reader (minutes on a CPU).

    python3 senses.py --data .data --model out --out out/senses.npz

The joint training of finetune.py learns the senses of SemCor by heart before the
trees are done (its loss keeps falling while held-out words get worse), so what
ships is this: vectors and prior learned from the reader's own word vectors.
Chosen by the held-out SemCor documents and semeval2007 alone.
"""
import argparse, os, time
import numpy as np, torch, torch.nn as nn, torch.nn.functional as F
from data import Data
from evaluate import EVAL_ROW, batches
from model import Encoder, Reader, WSD_DIM


def restore(path, data, size="S"):
    m = Reader(Encoder(size), data.sizes, data.sets["nsyn"])
    state = {k: torch.from_numpy(v) for k, v in np.load(f"{path}/rest.npz").items()}
    state["enc.emb"] = torch.from_numpy(np.concatenate([np.load(f"{path}/emb{i}.npy") for i in (0, 1)]).astype(np.float32))
    state["E"] = torch.from_numpy(np.load(f"{path}/senses.npy").astype(np.float32))
    m.load_state_dict(state)
    return m.eval()


def vectors(m, d, sents, noise):
    """The reader's vector of every word to disambiguate, with the mean of its sentence."""
    X, inst = [], []
    m.train(noise > 0)
    for ids, seg, where in batches(d, sents, 16):
        b = {k: torch.from_numpy(v) for k, v in d.words(ids, ids.size + 1).items()}
        hide = torch.rand(ids.shape) < noise / 2
        with torch.no_grad():
            h = m.enc.core(m.enc.words(b), b["inv"], hide, torch.from_numpy(seg), noise).numpy()
        for i, r, at, n in where:
            mean = h[r, at + 1:at + n].mean(0)
            for x in sents[i]["inst"]:
                inst.append(x); X.append(np.concatenate([h[r, at + 1 + x[0]], mean]).astype(np.float16))
    return np.stack(X), inst


class Scorer(nn.Module):
    def __init__(self, d, nsyn, mean):
        super().__init__()
        self.mean = mean
        self.q = nn.Linear(d * (2 if mean else 1), WSD_DIM)
        self.E, self.lx = nn.Parameter(torch.randn(nsyn, WSD_DIM) * 0.02), nn.Parameter(torch.zeros(50, WSD_DIM))
        self.rank, self.count = nn.Parameter(-0.3 * torch.arange(16).float()[None].repeat(4, 1)), nn.Parameter(torch.full((4,), 0.2))

    def forward(self, x, b, tables, drop, keep=None):
        _, rank, cnt, lex = tables
        x = x if self.mean else x[:, :x.shape[1] // 2]
        q = F.dropout(self.q(F.dropout(x, drop, self.training)), drop, self.training)
        u = b["senses"]
        v = F.embedding_bag(b["chain"], self.E, b["chain_off"], mode="sum") + self.lx[lex[u]]
        i, c = b["pair_i"], b["pair_c"]
        prior = self.rank[b["pos"][i], rank[u][c]] + self.count[b["pos"][i]] * cnt[u][c]
        if keep is not None:
            prior = prior * keep[i]
        return torch.full(b["good"].shape, -1e4).index_put((i, b["pair_k"]), (v[c] * q[i]).sum(-1) / 4 + prior)


def main():
    ap = argparse.ArgumentParser()
    for n in ("data", "model", "out", "cache"):
        ap.add_argument("--" + n, default="")
    ap.add_argument("--epochs", type=int, default=4); ap.add_argument("--lr", type=float, default=2e-3); ap.add_argument("--elr", type=float, default=2e-3)
    ap.add_argument("--drop", type=float, default=0.1); ap.add_argument("--mean", type=int, default=0); ap.add_argument("--examples", type=int, default=1)
    ap.add_argument("--decay", type=float, default=0.01); ap.add_argument("--keep", type=float, default=0.7); ap.add_argument("--final", action="store_true")
    ap.add_argument("--layer", type=int, default=4); ap.add_argument("--noise", type=float, default=0.0)
    a = ap.parse_args()
    torch.manual_seed(0); rng = np.random.default_rng(0)
    d = Data(a.data)
    sets = ["train", "examples", "dev", "semeval2007"] + (["senseval2", "senseval3"] if a.final else [])
    got = {}
    for s in sets:
        path = f"{a.cache}/{s}.npz"
        if a.cache and os.path.exists(path):
            X, inst = np.load(path)["X"], [x for t in d.wsd[s] for x in t["inst"]]
            order = np.load(path)["order"]
            inst = [inst[i] for i in order]
        else:
            m = restore(a.model, d)
            m.enc.blocks = m.enc.blocks[:a.layer]
            at, n = {}, 0  # remember the order, which packing changes
            for k, t in enumerate(d.wsd[s]):
                at[k] = n; n += len(t["inst"])
            X, inst = vectors(m, d, d.wsd[s], a.noise if s in ("train", "examples") else 0.0)
            index = {id(x): i for i, x in enumerate(x for t in d.wsd[s] for x in t["inst"])}
            order = np.array([index[id(x)] for x in inst])
            if a.cache:
                np.savez(path, X=X, order=order)
        got[s] = (X, inst)
    X = np.concatenate([got["train"][0]] + ([got["examples"][0]] if a.examples else []))
    inst = got["train"][1] + (got["examples"][1] if a.examples else [])
    ok = np.array([i for i, x in enumerate(inst) if len(x[1]) > 1 and x[2] and x[2][0] < 32])
    net = Scorer(X.shape[1] // 2, d.sets["nsyn"], a.mean)
    tables = d.tables("cpu")
    big = [net.E, net.lx]
    opt = torch.optim.AdamW([dict(params=big, base=a.elr, weight_decay=a.decay), dict(params=[p for n, p in net.named_parameters() if n not in ("E", "lx")], base=a.lr, weight_decay=0.01)], lr=a.lr, betas=(0.9, 0.98))
    B = 1024
    T, step, t0 = a.epochs * (len(ok) // B), 0, time.time()
    fix = lambda b: {k: torch.from_numpy(v) for k, v in b.items()}
    for ep in range(a.epochs):
        net.train(); perm = rng.permutation(ok); total = 0
        for k in range(0, len(perm) - B + 1, B):
            pick = perm[k:k + B]
            b = fix(d.instances([(0,) + tuple(inst[i][1:]) for i in pick], B))
            for g in opt.param_groups:
                g["lr"] = g["base"] * min(1, (step + 1) / 100) * (1 - step / T)
            s = net(torch.from_numpy(X[pick]).float(), b, tables, a.drop, (torch.rand(B) < a.keep).float())
            loss = -(b["good"] * s.log_softmax(-1)).sum(-1).mean()
            opt.zero_grad(); loss.backward(); nn.utils.clip_grad_norm_(net.parameters(), 1.0); opt.step(); step += 1; total += loss.item()
        net.eval()
        print("epoch", ep, "loss %.3f" % (total / (len(perm) // B)), {s: evaluate(net, d, s, *got[s], tables) for s in sets[2:]}, "%.0f s" % (time.time() - t0), flush=True)
    print("rank", net.rank[:, :4].tolist(), net.count.tolist())
    if a.out:
        np.savez(a.out, **{k: v.detach().numpy() for k, v in net.state_dict().items()})


@torch.no_grad()
def evaluate(net, d, name, X, inst, tables):
    missing = sum(t.get("missing", 0) for t in d.wsd[name])
    many = [i for i, x in enumerate(inst) if len(x[1]) > 1 and x[2]]
    right = sum(len(x[1]) == 1 and bool(x[2]) for x in inst)
    b = {k: torch.from_numpy(v) for k, v in d.instances([(0,) + tuple(inst[i][1:]) for i in many], len(many), 80).items()}
    s = net(torch.from_numpy(X[many]).float(), b, tables, 0.0)
    right += (b["good"].gather(1, s.argmax(1, keepdim=True)) > 0).sum().item()
    return round(100 * right / (len(inst) + missing), 2)


if __name__ == "__main__":
    main()
