"""Trains the slot head: what word could stand here, judged by the frozen reader.

    python3 slot.py --data .data --model out --to ../internal/lang/neural

The word itself is hidden, the reader reads its sentence, and a small layer turns
the reader's vector of the hidden place into one that lies near the vectors of
the words that fit (those that the reader's table adds up for a word, so that no
word is unknown). Learned from the raw text of the pre-training; held-out chunks
are the same. Minutes on a CPU. What is written (slot.bin) belongs to one
reader.bin, whose checksum it carries: run this again for a new reader.
"""
import argparse, struct, time, zlib
import numpy as np, torch, torch.nn as nn, torch.nn.functional as F
from data import Data, ROW
from features import NV
from model import rms
from senses import restore

HIDDEN = 384


class Slot(nn.Module):
    def __init__(self, d):
        super().__init__()
        self.a, self.b = nn.Linear(d, HIDDEN), nn.Linear(HIDDEN, d)
        self.frequency = nn.Parameter(torch.tensor(1.0))  # weight of a word's own log frequency

    def forward(self, h):
        return self.b(F.relu(self.a(h)))


def main():
    ap = argparse.ArgumentParser()
    for n in ("data", "model", "to"):
        ap.add_argument("--" + n, required=True)
    ap.add_argument("--steps", type=int, default=400); ap.add_argument("--rows", type=int, default=48); ap.add_argument("--lr", type=float, default=2e-3)
    a = ap.parse_args()
    torch.manual_seed(0); rng = np.random.default_rng(0)
    d = Data(a.data)
    m = restore(a.model, d)
    mid = d.sets["novel_tokens"] // 2
    lo, hi = mid, mid + 64 * ROW
    # the vector of each frequent word, as the reader sees it
    first = np.full(NV - 1, -1)
    for t in range(len(d.t2v) - 1, -1, -1):
        if d.t2v[t] < NV - 1:
            first[d.t2v[t]] = t
    have = first >= 0
    f = d.feat[np.where(have, first, 0)]
    with torch.no_grad():
        U = F.embedding(torch.from_numpy(f.astype(np.int64)), m.enc.emb).mul(torch.from_numpy(f > 0)[..., None]).sum(1)
        U = rms(U, m.enc.g0)
    count = np.bincount(d.t2v[d.stream], minlength=NV)[:NV - 1] + 1.0
    logf = torch.from_numpy(np.log(count / count.sum()).astype(np.float32))
    logf[~torch.from_numpy(have)] = -30
    net = Slot(m.enc.d)
    opt = torch.optim.AdamW(net.parameters(), lr=a.lr, betas=(0.9, 0.98), weight_decay=0.01)

    def chunk(rows, low=None):
        off = rng.integers(0, len(d.stream) - ROW, rows) if low is None else low + np.arange(rows) * ROW
        if low is None:
            off = np.where((off > lo - ROW) & (off < hi), (off + hi - lo + ROW) % (len(d.stream) - ROW), off)
        ids = d.stream[off[:, None] + np.arange(ROW)]
        y = d.t2v[ids]
        hide = (rng.random(ids.shape) < 0.12) & (ids != 1) & (y < NV - 1)
        seg = torch.from_numpy(np.cumsum(ids == 1, 1))
        b = {k: torch.from_numpy(v) for k, v in d.words(ids, ids.size + 1).items()}
        with torch.no_grad():
            h = m.enc.core(m.enc.words(b), b["inv"], torch.from_numpy(hide), seg, 0.0)
        return h[torch.from_numpy(hide)], torch.from_numpy(y[hide])

    def loss_of(h, y):
        lg = net(h) @ U.T / m.enc.d ** 0.5 + net.frequency * logf
        return F.cross_entropy(lg, y), lg

    t0 = time.time()
    held = [chunk(16, lo + 16 * ROW * i) for i in range(4)]
    for step in range(a.steps):
        for g in opt.param_groups:
            g["lr"] = a.lr * min(1, (step + 1) / 20) * (1 - step / a.steps)
        loss, _ = loss_of(*chunk(a.rows))
        opt.zero_grad(); loss.backward(); opt.step()
        if step % 50 == 0 or step == a.steps - 1:
            with torch.no_grad():
                r = [(l.item(), (g.argmax(-1) == y).float().mean().item()) for (h, y) in held for l, g in [loss_of(h, y)]]
            print("step", step, "held-out loss %.3f accuracy %.3f" % tuple(np.mean(r, 0)), "weight of frequency %.2f" % net.frequency.item(), "%.0f s" % (time.time() - t0), flush=True)
    p = {k: v.detach().numpy().astype("<f4") for k, v in net.state_dict().items()}
    with open(a.to + "/reader.bin", "rb") as f:
        of = zlib.crc32(f.read())
    with open(a.to + "/slot.bin", "wb") as f:  # see internal/lang/neural/slot.go
        f.write(b"BKSLOT01" + struct.pack("<III", of, m.enc.d, HIDDEN))
        for x in (m.enc.masked.detach().numpy().astype("<f4"), p["a.weight"], p["a.bias"], p["b.weight"], p["b.bias"], p["frequency"]):
            f.write(x.tobytes())


if __name__ == "__main__":
    main()
