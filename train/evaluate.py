"""Dev scores from gold tokens: tags, lemmas, trees, names, senses, sentence types."""
import numpy as np, torch
from data import pack

EVAL_ROW = 256


def tree(h):
    n = len(h)
    if (h[1:] == 0).sum() != 1:
        return False
    state = np.zeros(n, np.int8); state[0] = 2
    for i in range(1, n):
        path, j = [], i
        while state[j] == 0:
            state[j] = 1; path.append(j); j = h[j]
        if state[j] == 1:
            return False
        state[path] = 2
    return True


def chu_liu_edmonds(S):
    """Best tree of scores S[dependent, head]; node 0 is the root."""
    n = len(S)
    h = S.argmax(1); h[0] = 0
    state, cycle = [0] * n, None
    state[0] = 2
    for i in range(1, n):
        path, j = [], i
        while state[j] == 0:
            state[j] = 1; path.append(j); j = h[j]
        if state[j] == 1:
            cycle = path[path.index(j):]
            break
        for k in path:
            state[k] = 2
    if cycle is None:
        return h
    C = np.array(cycle)
    inside = np.zeros(n, bool); inside[C] = True
    R = np.where(~inside)[0]
    m = len(R)
    T = np.full((m + 1, m + 1), -1e9)
    T[:m, :m] = S[np.ix_(R, R)]
    cs = S[C, h[C]]
    enter = S[np.ix_(C, R)] - cs[:, None]
    be = enter.argmax(0); T[m, :m] = enter.max(0) + cs.sum()
    leave = S[np.ix_(R, C)]
    bl = leave.argmax(1); T[:m, m] = leave.max(1)
    np.fill_diagonal(T, -1e9)
    hh = chu_liu_edmonds(T)
    out = h.copy()
    for a in range(m):
        if R[a]:
            out[R[a]] = C[bl[a]] if hh[a] == m else R[hh[a]]
    out[C[be[hh[m]]]] = R[hh[m]]
    out[0] = 0
    return out


def best_tree(s):
    """Best tree with one word under the root."""
    h = s.argmax(1); h[0] = 0
    if tree(h):
        return h
    s = s.astype(np.float64).copy()
    s[:, 0] -= 1e5; s[0] = -1e9
    np.fill_diagonal(s, -1e9)
    return chu_liu_edmonds(s)


def batches(data, sents, rows=48):
    order = sorted(range(len(sents)), key=lambda i: len(sents[i]["ids"]))
    packed = pack([len(s["ids"]) + 1 for s in sents], order, EVAL_ROW)
    for k in range(0, len(packed), rows):
        part = packed[k:k + rows]
        ids, seg, where = np.zeros((len(part), EVAL_ROW), np.int64), np.zeros((len(part), EVAL_ROW), np.int64), []
        for r, row in enumerate(part):
            at = 0
            for j, i in enumerate(row):
                n = len(sents[i]["ids"]) + 1
                ids[r, at] = 1; ids[r, at + 1:at + n] = sents[i]["ids"]; seg[r, at:at + n] = j + 1
                where.append((i, r, at, n)); at += n
        yield ids, seg, where


class Scorer:
    def __init__(self, data, dev):
        self.d, self.dev = data, dev
        self.plain = [x.split(":")[0] for x in data.sets["D"]]

    def to(self, b):
        return {k: torch.from_numpy(v).to(self.dev) for k, v in b.items()}

    def run(self, models, ids, seg, trees=None):
        b = self.to(self.d.words(ids, ids.size + 1))
        sg = torch.from_numpy(seg).to(self.dev)
        outs = []
        with torch.no_grad(), torch.autocast(self.dev, dtype=torch.bfloat16):
            for m in models:
                outs.append(m(m.enc.words(b), b["inv"], None, sg, trees, 0.0))
        return outs

    def trees(self, models, name):
        total = {}
        for ids, seg, where in batches(self.d, self.d.gold[name]):
            outs = self.run(models, ids, seg)
            arc = sum(o["a"].log_softmax(-1) for o in outs).cpu().numpy()
            heads = np.zeros(ids.shape, np.int64)
            for i, r, at, n in where:
                heads[r, at:at + n] = best_tree(arc[r, at:at + n, at:at + n]) + at
            outs = self.run(models, ids, seg, torch.from_numpy(heads).to(self.dev))
            p = {k: sum(o[k].log_softmax(-1) for o in outs).argmax(-1).cpu().numpy() for k in "uxflrs"}
            for i, r, at, n in where:
                s = self.d.gold[name][i]
                y, sl = s["y"], (r, slice(at + 1, at + n))
                ok = {k: p[k][sl] == y[j] for j, k in enumerate("uxfl")}
                head = heads[sl] - at == y[4]
                rel = np.array([self.plain[a] == (self.plain[b] if b >= 0 else "") for a, b in zip(p["r"][sl], y[5])])
                row = np.array([n - 1] + [ok[k].sum() for k in "uxfl"] + [head.sum(), (head & rel).sum(), (head & (p["r"][sl] == y[5])).sum()])
                for key in [name] + (["fiction"] if s["doc"].startswith("GUM_fiction") else []):
                    total[key] = total.get(key, 0) + row
                if s["stype"] >= 0:
                    g, t = s["stype"] == 1, p["s"][r, at] == 1
                    total["frag"] = total.get("frag", 0) + np.array([g & t, t, g, p["s"][r, at] == s["stype"], 1])
        res = {}
        for k, v in total.items():
            if k == "frag":
                res[k] = dict(F=round(float(200 * v[0] / max(1, v[1] + v[2])), 2), acc=round(float(100 * v[3] / v[4]), 2))
            else:
                res[k] = dict(zip(("UPOS", "XPOS", "FEATS", "LEMMA", "UAS", "LAS", "LASsub"), (np.round(100 * v[1:] / v[0], 2)).tolist()))
        return res

    def names(self, models, name="dev"):
        c, per = np.zeros(3), np.zeros(3)
        propn = self.d.sets["U"].index("PROPN")
        for ids, seg, where in batches(self.d, self.d.ner[name]):
            outs = self.run(models, ids, seg)
            t = sum(o["n"].log_softmax(-1) for o in outs).argmax(-1).cpu().numpy()
            u = sum(o["u"].log_softmax(-1) for o in outs).argmax(-1).cpu().numpy()
            for i, r, at, n in where:
                gold = set(self.d.ner[name][i]["spans"])
                got = set()
                for k in range(3):
                    got |= read_bio(t[r, at + 1:at + n, k])
                c += (len(gold & got), len(got), len(gold))
                named = lambda s: s[2] == "PER" and (u[r, at + 1 + s[0]:at + 1 + s[1]] == propn).any()
                g, p = {s for s in gold if named(s)}, {s for s in got if named(s)}
                per += (len(g & p), len(p), len(g))
        f = lambda v: [round(float(x), 3) for x in (v[0] / max(1, v[1]), v[0] / max(1, v[2]), 2 * v[0] / max(1, v[1] + v[2]))]
        return dict(all=f(c), named_people=f(per))

    def senses(self, model, names):
        res, tables = {}, self.d.tables(self.dev)
        for name in names:
            right = total = 0
            for ids, seg, where in batches(self.d, self.d.wsd[name]):
                b, sg = self.to(self.d.words(ids, ids.size + 1)), torch.from_numpy(seg).to(self.dev)
                with torch.no_grad(), torch.autocast(self.dev, dtype=torch.bfloat16):
                    h = model.enc.core(model.enc.words(b), b["inv"], None, sg, 0.0).reshape(-1, model.enc.d)
                inst = [(r * EVAL_ROW + at + 1 + x[0], x[1], x[2], x[3]) for i, r, at, n in where for x in self.d.wsd[name][i]["inst"]]
                total += len(inst) + sum(self.d.wsd[name][i].get("missing", 0) for i, *_ in where)
                many = [x for x in inst if len(x[1]) > 1 and x[2]]
                right += sum(len(x[1]) == 1 and bool(x[2]) for x in inst)
                if many:
                    t = self.to(self.d.instances(many, len(many), 80))
                    with torch.no_grad(), torch.autocast(self.dev, dtype=torch.bfloat16):
                        s = model.sense_scores(h.float(), t, tables)
                    right += (t["good"].gather(1, s.argmax(1, keepdim=True)) > 0).sum().item()
            res[name] = (right, total, round(100 * right / total, 2))
        return res


def read_bio(tags):
    out, start, kind = set(), None, None
    names = ["PER", "LOC", "GPE", "FAC", "VEH", "ORG"]
    for i, t in enumerate(list(tags) + [0]):
        if start is not None and not (t == kind * 2 + 2):
            out.add((start, i, names[kind])); start = None
        if t % 2 == 1 or (t > 0 and start is None):
            start, kind = i, (int(t) - 1) // 2
    return out
