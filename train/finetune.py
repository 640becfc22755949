"""Trains a reader on gold data and, given teachers, on their word about raw text.

A teacher:  python3 finetune.py --data .data --size T --pre T.pt --out T0.pt --steps 2200
The reader: torchrun --nproc_per_node 2 finetune.py --data .data --size S --pre S.pt --teachers T0.pt,T1.pt,T2.pt \
                --senses --rows 20,5,8,223 --dropout 0.07 --lr 1e-3 --hlr 2e-3 --parts out --seconds 360

With --seconds the number of steps is fixed from the speed of the first hundred;
give --steps to repeat a run. Under torchrun each process has its own share of
the batches and the gradients are averaged.
"""
import argparse, os, time
import numpy as np, torch, torch.distributed as dist, torch.nn as nn, torch.nn.functional as F
from data import Data, Mixed, loader
from evaluate import Scorer
from features import NV
from model import Encoder, Reader

RANK, RANKS = int(os.environ.get("LOCAL_RANK", 0)), int(os.environ.get("WORLD_SIZE", 1))
dev = "cuda" if torch.cuda.is_available() else "cpu"
if RANKS > 1:
    if dev == "cuda":
        torch.cuda.set_device(RANK)
    dist.init_process_group("nccl" if dev == "cuda" else "gloo")
WEIGHT = dict(u=1.0, x=1.0, f=0.5, l=0.7, a=1.0, r=1.0)


def await_file(path):
    """Loads a file that another process may still be making."""
    while not os.path.exists(path):
        time.sleep(0.2)
    return torch.load(path, map_location="cpu")


def ce(o, y):
    """Mean over the places that have a label; 0 when there is none."""
    return F.cross_entropy(o.reshape(-1, o.shape[-1]), y.reshape(-1), reduction="sum") / (y >= 0).sum().clamp(min=1)


def main():
    ap = argparse.ArgumentParser()
    for n in ("data", "out", "pre", "teachers", "name", "parts"):
        ap.add_argument("--" + n, default="")
    ap.add_argument("--size", default="S"); ap.add_argument("--tsize", default="T"); ap.add_argument("--senses", action="store_true"); ap.add_argument("--quiet", action="store_true")
    ap.add_argument("--seconds", type=float); ap.add_argument("--steps", type=int); ap.add_argument("--seed", type=int, default=0)
    ap.add_argument("--lr", type=float, default=6e-4); ap.add_argument("--hlr", type=float, default=1.5e-3)
    ap.add_argument("--dropout", type=float, default=0.2); ap.add_argument("--hide", type=float, default=0.06); ap.add_argument("--drop", type=float, default=0.1)
    ap.add_argument("--rows", default="64,12,0,0"); ap.add_argument("--workers", type=int, default=6); ap.add_argument("--examples", type=int, default=1)
    ap.add_argument("--elr", type=float, default=2e-3)
    a = ap.parse_args()
    t0 = time.time()
    log = lambda *x: print("[%5.0f] %s" % (time.time() - t0, a.name or a.size), *x, flush=True) if RANK == 0 else None
    torch.manual_seed(a.seed); np.random.seed(a.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    d = Data(a.data)
    G, N, W, R = (int(x) for x in a.rows.split(","))
    if not a.senses:
        W = 0
    tokens = (G + N + W + R) * 128
    it = loader(Mixed(d, d.gold["ewt-train"] + d.gold["gum-train"], G, N, W, R, min(tokens, 6000 + tokens // 4), a.seed * 100 + RANK, bool(a.examples)), a.workers)
    enc = Encoder(a.size)
    nsyn = d.sets["nsyn"] if a.senses else 0
    m = Reader(enc, d.sizes, nsyn).to(dev)
    paths = [p for p in a.teachers.split(",") if p]
    teachers = [Reader(Encoder(a.tsize), d.sizes).to(dev).eval() for _ in paths]
    tables = d.tables(dev) if a.senses else None
    slow = [p for n, p in m.named_parameters() if n.startswith("enc.")]
    table = [p for n, p in m.named_parameters() if n in ("E", "lx", "rank", "count")]
    fast = [p for n, p in m.named_parameters() if not n.startswith("enc.") and n not in ("E", "lx", "rank", "count")]
    groups = [dict(params=slow, base=a.lr), dict(params=fast, base=a.hlr)] + ([dict(params=table, base=a.elr)] if table else [])
    opt = torch.optim.AdamW(groups, lr=a.lr, betas=(0.9, 0.98), weight_decay=0.01, **({"fused": True} if dev == "cuda" else {}))
    p = a.dropout

    def soften(xus, inv, seg):
        outs = [t(xu, inv, None, seg, None, 0.0) for t, xu in zip(teachers, xus)]
        arc = sum(o["a"].softmax(-1) for o in outs) / len(outs)
        at = arc.argmax(-1)
        soft = {k: sum(o[k].softmax(-1) for o in outs) / len(outs) for k in "uxflsn"}
        soft["r"] = sum(t.heads(o["h"], seg, at, 0.0)["r"].softmax(-1) for t, o in zip(teachers, outs)) / len(outs)
        soft["a"], soft["at"] = arc, at
        return {k: (v if k == "at" else v.bfloat16()) for k, v in soft.items()}

    def losses(xu, inv, hide, seg, ids, y, st, ner, soft):
        at = y[4].clamp(min=0)
        if soft:  # gold heads where there are gold trees, else the teachers'
            at = torch.cat([at, soft["at"][G:]])
        else:
            at = torch.cat([at, at.new_zeros(seg.shape[0] - G, at.shape[1])])
        o = m(xu, inv, hide, seg, at, p)
        g = {k: ce(o[k][:G], y[j]) for j, k in enumerate("uxflar")}
        loss = sum(WEIGHT[k] * v for k, v in g.items()) + 0.3 * ce(o["s"][:G], st)
        if N:
            loss = loss + ce(o["n"][G:G + N], ner.transpose(1, 2))
        if soft:
            word, real = (ids[G:] > 1).float(), (ids > 1).float()
            start = (ids[G:] == 1).float()
            kl = lambda k, s, w, lo: -((soft[k][lo:].float() * s[lo:].log_softmax(-1)).sum(-1) * w).sum() / w.sum()
            loss = loss + sum(WEIGHT[k] * kl(k, o[k], word, G) for k in "uxflar") + 0.3 * kl("s", o["s"], start, G)
            lo = G + N
            w3 = (ids[lo:] > 1).float()[..., None].expand(-1, -1, 3)
            loss = loss + 1.5 * kl("n", o["n"], w3, lo)
        return loss, o["h"]

    if dev == "cuda":
        losses, soften = torch.compile(losses), torch.compile(soften)
    step, start, total = 0, None, a.steps
    torch.manual_seed(a.seed * 100 + RANK)
    scorer = Scorer(d, dev)
    m.train()
    warm = 2  # steps that only compile; then the weights are read, and waited for if need be
    while True:
        if warm == 0:
            if a.pre:
                enc.load_state_dict(await_file(a.pre))
            for t, path in zip(teachers, paths):
                t.load_state_dict(await_file(path)["state"])
            log("weights read")
        warm -= 1
        b = {k: v.to(dev, non_blocking=True) for k, v in next(it).items()}
        if total and step >= total:
            break
        f = min(1.0, (step + 1) / 300) * (1 - step / total if total else 1.0)
        for g in opt.param_groups:
            g["lr"] = g["base"] * f
        hide = (torch.rand(b["ids"].shape, device=dev) < a.hide) & (b["ids"] > 1)
        with torch.autocast(dev, dtype=torch.bfloat16):
            soft = None
            with torch.no_grad():
                if teachers:
                    soft = soften([t.enc.words(b) for t in teachers], b["inv"], b["seg"])
                # the reader, unlike its teachers, does not always know a word by its own row
                flat, own = b["flat"].clone(), b["flat"][b["first"]]
                gone = (torch.rand(own.shape, device=dev) < a.drop) & (own > 3)
                flat[b["first"]] = torch.where(gone, torch.full_like(own, NV), own)
            loss, h = losses(m.enc.words(b, flat), b["inv"], hide, b["seg"], b["ids"], b["y"], b["st"], b["ner"], soft)
            if W:
                keep = (torch.rand(len(b["pos"]), device=dev) > 0.3).float()
                sc = m.sense_scores(h.reshape(-1, enc.d).float(), b, tables, keep)
                w = (b["good"].sum(-1) > 0).float()
                wl = (-(b["good"] * sc.log_softmax(-1)).sum(-1) * w).sum() / w.sum().clamp(min=1)
                loss = loss + wl
        opt.zero_grad(set_to_none=True)
        loss.backward()
        if warm >= 0:
            continue
        if RANKS > 1:
            for q in m.parameters():
                if q.grad is not None:
                    dist.all_reduce(q.grad)
                    q.grad.div_(RANKS)
        nn.utils.clip_grad_norm_(m.parameters(), 2.0)
        opt.step()
        step += 1
        if step == 3:
            sync()
            log("first steps done"); start = time.time()
        if step == 103 and not total:
            sync()
            guess = torch.tensor([3 + a.seconds * 100 / (time.time() - start)], device=dev)
            if RANKS > 1:
                dist.broadcast(guess, 0)
            total = int(guess.item())
            log("steps to go", total)
        if step % 500 == 0 or step == total:
            log("step", step, "loss %.3f" % loss.item(), ("senses %.3f" % wl.item()) if W else "", "ms/step %.1f" % (1000 * (time.time() - start) / max(1, step - 3)))
            if RANKS == 1 and a.seconds and time.time() - start > a.seconds * 1.15:  # a slower machine than it seemed: stop in time
                log("stopped early at", step); total = step
    log("steps", step, "seconds %.0f" % (time.time() - start), "gold words", step * G * 128)
    if RANK:
        return
    if a.parts:
        save_parts(m, a.parts)
    if a.out:
        torch.save(dict(size=a.size, nsyn=nsyn, state=m.state_dict(), steps=step), a.out + ".part")
        os.replace(a.out + ".part", a.out)
    if a.quiet:
        return
    m.eval()
    report(log, scorer, [m], a.senses)


def sync():
    if dev == "cuda":
        torch.cuda.synchronize()


def save_parts(m, to):
    """The weights in a few files of less than 16 MB: the big tables in half precision."""
    state = {k: v.detach().cpu() for k, v in m.state_dict().items()}
    emb, table = state.pop("enc.emb").half().numpy(), state.pop("E").half().numpy()
    half = len(emb) // 2
    np.save(f"{to}/emb0.npy", emb[:half]); np.save(f"{to}/emb1.npy", emb[half:]); np.save(f"{to}/senses.npy", table)
    np.savez(f"{to}/rest.npz", **{k: v.float().numpy() for k, v in state.items()})


def report(log, scorer, models, senses):
    for name in ("ewt-dev", "gum-dev"):
        for k, v in scorer.trees(models, name).items():
            log("RES", k, v)
    log("RES names", scorer.names(models))
    if senses:
        log("RES senses", scorer.senses(models[0], ["dev", "semeval2007"]))


if __name__ == "__main__":
    main()
