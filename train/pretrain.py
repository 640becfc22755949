"""Pre-trains an encoder: guess masked words of the raw text.

    python3 pretrain.py --data .data --size S --seconds 240 --out S.pt
"""
import argparse, os, time
import numpy as np, torch, torch.nn as nn, torch.nn.functional as F
from data import Data, Masked, loader, masked, ROW
from features import NV
from model import Encoder, Muon

dev = "cuda" if torch.cuda.is_available() else "cpu"


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--data", required=True); ap.add_argument("--out"); ap.add_argument("--size", default="S")
    ap.add_argument("--seconds", type=float); ap.add_argument("--steps", type=int); ap.add_argument("--seed", type=int, default=0)
    ap.add_argument("--rows", type=int, default=192); ap.add_argument("--lr", type=float, default=2e-3)
    ap.add_argument("--muon", type=float, default=0.0); ap.add_argument("--workers", type=int, default=5); ap.add_argument("--name", default="")
    a = ap.parse_args()
    t0 = time.time()
    log = lambda *x: print("[%5.0f] %s" % (time.time() - t0, a.name or a.size), *x, flush=True)
    torch.manual_seed(a.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    d = Data(a.data)
    N = len(d.stream)
    mid = d.sets["novel_tokens"] // 2  # 64 chunks in the middle of the novels are held out
    held = (mid, mid + 64 * ROW)
    it = loader(Masked(d, a.rows, 10240, 0.25, a.seed, held), a.workers)
    enc = Encoder(a.size).to(dev)
    head = nn.Linear(enc.d, enc.d, bias=False).to(dev)
    bias = nn.Parameter(torch.zeros(NV, device=dev))
    muon = Muon(enc, a.muon) if a.muon else None
    skip = {id(p) for p in muon.params} if muon else set()
    ps = [p for p in list(enc.parameters()) + list(head.parameters()) + [bias]]
    decay = [p for p in ps if p.dim() >= 2 and p is not enc.emb and id(p) not in skip]
    plain = [p for p in ps if (p.dim() < 2 or p is enc.emb)]
    opt = torch.optim.AdamW([dict(params=decay, weight_decay=0.05), dict(params=plain, weight_decay=0.0)], lr=a.lr, betas=(0.9, 0.98), **({"fused": True} if dev == "cuda" else {}))

    def loss_of(xu, inv, hide, m, y):
        with torch.autocast(dev, dtype=torch.bfloat16):
            h = enc.core(xu, inv, hide, None, 0.0)
            h = F.relu(head(h.reshape(-1, enc.d)[m])).square()
            h = h * torch.rsqrt(h.float().pow(2).mean(-1, keepdim=True) + 1e-6)
            lg = F.linear(h, enc.emb[1:1 + NV]) + bias
        return F.cross_entropy(lg.float(), y), lg

    fast = torch.compile(loss_of) if dev == "cuda" else loss_of
    to = lambda b: {k: v.to(dev, non_blocking=True) for k, v in b.items()}
    step, start = 0, None
    while True:
        b = to(next(it))
        done = 0.0 if start is None else ((time.time() - start) / a.seconds if a.seconds else step / a.steps)
        if done >= 1:
            break
        f = min(1.0, (step + 1) / 400) * min(1.0, (1 - done) / 0.7)
        for g in opt.param_groups:
            g["lr"] = a.lr * f
        loss, _ = fast(enc.words(b), b["inv"], b["hide"], b["m"], b["y"])
        for p in ps:
            p.grad = None
        loss.backward()
        nn.utils.clip_grad_norm_(ps, 1.0)
        opt.step()
        if muon:
            muon.step(f)
        step += 1
        if step == 3:
            if dev == "cuda":
                torch.cuda.synchronize()
            log("first steps done"); start = time.time(); base = step
        if step % 2000 == 0:
            log("step", step, "loss %.3f" % loss.item(), "words/s %.0f" % ((step - base) * a.rows * ROW / (time.time() - start)), "passes %.1f" % (step * a.rows * ROW / N))
    rng = np.random.default_rng(1)
    val = d.stream[held[0]:held[1]].reshape(64, ROW)
    enc.eval()
    with torch.no_grad():
        r = []
        for _ in range(8):
            b = to(masked(d, val, rng, 0.15, 10240))
            l, lg = loss_of(enc.words(b), b["inv"], b["hide"], b["m"], b["y"])
            r.append((l.item(), (lg.argmax(-1) == b["y"])[b["y"] >= 0].float().mean().item()))
    log("DONE steps", step, "passes %.1f" % (step * a.rows * ROW / N), "held-out loss %.3f accuracy %.3f" % tuple(np.mean(r, 0)), "seconds %.0f" % (time.time() - start))
    if a.out:
        torch.save(enc.state_dict(), a.out + ".part")
        os.replace(a.out + ".part", a.out)  # another process may wait for it


if __name__ == "__main__":
    main()
