"""Trains the net that says which sounds each letter of a word stands for.

    go run ./cmd/g2ptrain -letters letters.tsv
    python3 g2p.py --letters letters.tsv --out g2p.pt
    python3 g2p.py --export g2p.pt --out ../internal/phonics/g2p/net.bin

letters.tsv: a word, a tab and the phones of its letters, parted by "|". The words
held out by g2ptrain are not among them; every 40th word is held out here to watch
the training.
"""
import argparse, random, struct, time
import torch, torch.nn as nn, torch.nn.functional as F

SYMBOLS = "'abcdefghijklmnopqrstuvwxyz"


class Net(nn.Module):
    """Two bidirectional LSTM layers over the letters and a choice at each."""

    def __init__(self, labels, emb=24, hidden=128, drop=0.25):
        super().__init__()
        self.emb = nn.Embedding(len(SYMBOLS) + 1, emb, padding_idx=len(SYMBOLS))
        self.lstm = nn.LSTM(emb, hidden, 2, batch_first=True, bidirectional=True, dropout=drop)
        self.drop = nn.Dropout(drop)
        self.out = nn.Linear(2 * hidden, labels)

    def forward(self, x, lengths):
        p = nn.utils.rnn.pack_padded_sequence(self.emb(x), lengths, batch_first=True, enforce_sorted=False)
        h, _ = nn.utils.rnn.pad_packed_sequence(self.lstm(p)[0], batch_first=True)
        return self.out(self.drop(h))


def read(path):
    rows, labels = [], {}
    for line in open(path, encoding="utf-8"):
        word, sounds = line.rstrip("\n").split("\t")
        sounds = sounds.split("|")
        for s in sounds:
            labels.setdefault(s, len(labels))
        rows.append(([SYMBOLS.index(c) for c in word], [labels[s] for s in sounds], word))
    return rows, list(labels)


def batches(rows, size, rng):
    rows = rows[:]
    rng.shuffle(rows)
    for i in range(0, len(rows), size * 32):
        part = sorted(rows[i:i + size * 32], key=lambda r: len(r[0]))
        cut = [part[j:j + size] for j in range(0, len(part), size)]
        rng.shuffle(cut)
        yield from cut


def tensors(batch):
    n = max(len(r[0]) for r in batch)
    x = torch.full((len(batch), n), len(SYMBOLS)); y = torch.full((len(batch), n), -100)
    for i, (a, b, _) in enumerate(batch):
        x[i, :len(a)] = torch.tensor(a); y[i, :len(b)] = torch.tensor(b)
    return x, y, torch.tensor([len(r[0]) for r in batch])


def export(path, out):
    """Writes the weights as internal/phonics/g2p/net.go reads them: a byte each, with
    a scale for each row."""
    d = torch.load(path); w, labels = d["net"], d["labels"]
    b = bytearray(b"G2N1")
    b += struct.pack("<HHH", w["emb.weight"].shape[1], w["lstm.weight_hh_l0"].shape[1], len(labels))
    b += "\n".join(labels).encode() + b"\n\n"

    def matrix(m):
        nonlocal b
        scale = m.abs().amax(1).clamp(min=1e-8) / 127
        b += scale.numpy().astype("<f4").tobytes()
        b += (m / scale[:, None]).round().to(torch.int8).numpy().tobytes()

    matrix(w["emb.weight"][:-1])
    for layer in "l0", "l1":
        for way in "", "_reverse":
            matrix(w["lstm.weight_ih_" + layer + way]); matrix(w["lstm.weight_hh_" + layer + way])
            b += (w["lstm.bias_ih_" + layer + way] + w["lstm.bias_hh_" + layer + way]).numpy().astype("<f4").tobytes()
    matrix(w["out.weight"]); b += w["out.bias"].numpy().astype("<f4").tobytes()
    open(out, "wb").write(b)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--letters"); ap.add_argument("--export"); ap.add_argument("--out", required=True)
    ap.add_argument("--epochs", type=int, default=14); ap.add_argument("--batch", type=int, default=128)
    ap.add_argument("--hidden", type=int, default=128)
    ap.add_argument("--lr", type=float, default=4e-3); ap.add_argument("--seed", type=int, default=1)
    a = ap.parse_args()
    if a.export:
        return export(a.export, a.out)
    torch.manual_seed(a.seed); rng = random.Random(a.seed)
    rows, labels = read(a.letters)
    words = sorted({r[2] for r in rows}); watched = set(words[::40])
    train = [r for r in rows if r[2] not in watched]; watch = [r for r in rows if r[2] in watched]
    net = Net(len(labels), hidden=a.hidden)
    print(len(train), "rows,", len(labels), "labels,", sum(p.numel() for p in net.parameters()), "weights", flush=True)
    opt = torch.optim.AdamW(net.parameters(), lr=a.lr, weight_decay=1e-4)
    steps = a.epochs * (len(train) // a.batch + 1)
    sched = torch.optim.lr_scheduler.OneCycleLR(opt, a.lr, total_steps=steps + 64, pct_start=0.1)
    t0 = time.time()
    for epoch in range(a.epochs):
        net.train(); total = n = 0
        for b in batches(train, a.batch, rng):
            x, y, lengths = tensors(b)
            loss = F.cross_entropy(net(x, lengths).flatten(0, 1), y.flatten(), ignore_index=-100)
            opt.zero_grad(); loss.backward()
            nn.utils.clip_grad_norm_(net.parameters(), 1.0)
            opt.step(); sched.step(); total += loss.item(); n += 1
            if n % 100 == 0 and epoch == 0:
                print("  %d %.3f %.0fs" % (n, total / n, time.time() - t0), flush=True)
        net.eval(); right = {}
        with torch.no_grad():
            for b in batches(watch, a.batch, random.Random(0)):
                x, y, lengths = tensors(b)
                z = net(x, lengths).argmax(-1)
                for i, r in enumerate(b):
                    said = [s for s in (labels[k] for k in z[i, :len(r[0])].tolist()) if s]
                    want = [s for s in (labels[k] for k in r[1]) if s]
                    right[r[2]] = right.get(r[2], False) or said == want
        print("epoch %d loss %.4f, watched words wrong %.2f%%, %.0fs" % (epoch + 1, total / n, 100 - 100 * sum(right.values()) / len(right), time.time() - t0), flush=True)
        torch.save({"net": net.state_dict(), "labels": labels}, a.out)


if __name__ == "__main__":
    main()
