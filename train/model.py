"""The network: one vector a word, a small transformer, and a head for each task.

Everything a head needs is linear or a ReLU, and the feed-forward squares its
ReLU, so that the Go side (internal/lang/neural) needs no exp but the softmax's.
Sentences are packed, several to a row of fixed length: attention and
convolution never look past the sentence, so a packed row gives exactly what
the sentences give alone, and every step has the same shape.
"""
import math
import torch, torch.nn as nn, torch.nn.functional as F
from features import NF, NV

SIZES = {"XXS": (64, 1), "S": (192, 4), "M": (256, 5), "T": (512, 8)}
HEAD = 32  # size of an attention head
WSD_DIM = 96
NER_LAYERS, NER_TAGS = 3, 13


def rms(x, g):
    x = x.float()
    return x * torch.rsqrt(x.pow(2).mean(-1, keepdim=True) + 1e-6) * g


def attention(q, k, v, mask):
    if hasattr(F, "scaled_dot_product_attention"):
        return F.scaled_dot_product_attention(q, k, v, attn_mask=mask)
    s = (q @ k.transpose(-1, -2)) / math.sqrt(q.shape[-1])
    if mask is not None:
        s = s.masked_fill(~mask, -1e9)
    return s.softmax(-1) @ v


class Block(nn.Module):
    def __init__(self, d, layers):
        super().__init__()
        self.g1, self.g2 = nn.Parameter(torch.ones(d)), nn.Parameter(torch.ones(d))
        self.c1 = nn.Parameter(torch.tensor([[0.0], [1.0], [0.0]]).repeat(1, d))
        self.c2 = nn.Parameter(torch.tensor([[0.0], [1.0], [0.0]]).repeat(1, d))
        self.qkv, self.o = nn.Linear(d, 3 * d, bias=False), nn.Linear(d, d, bias=False)
        self.f1, self.f2 = nn.Linear(d, 4 * d, bias=False), nn.Linear(4 * d, d, bias=False)
        for w in (self.o, self.f2):
            nn.init.normal_(w.weight, std=0.06 / math.sqrt(2 * layers))

    @staticmethod
    def conv(x, c, left, right):
        a, b = F.pad(x[:, :-1], (0, 0, 1, 0)), F.pad(x[:, 1:], (0, 0, 0, 1))
        if left is not None:
            a, b = a * left, b * right
        return x * c[1] + a * c[0] + b * c[2]

    def forward(self, x, mask, left, right, cos, sin, p):
        B, n, d = x.shape
        y = self.conv(rms(x, self.g1), self.c1, left, right)
        q, k, v = self.qkv(y).view(B, n, 3, d // HEAD, HEAD).permute(2, 0, 3, 1, 4)

        def turn(t):
            a, b = t.chunk(2, -1)
            return torch.cat([a * cos - b * sin, b * cos + a * sin], -1).to(v.dtype)
        y = attention(turn(q), turn(k), v, mask)
        x = x + F.dropout(self.o(y.transpose(1, 2).reshape(B, n, d)), p, self.training)
        y = self.conv(rms(x, self.g2), self.c2, left, right)
        y = self.f2(F.relu(self.f1(y)).square())
        return x + F.dropout(y, p, self.training)


class Encoder(nn.Module):
    def __init__(self, size):
        super().__init__()
        d, layers = SIZES[size]
        self.d, self.size = d, size
        self.emb = nn.Parameter(torch.randn(NF, d) * 0.05)
        self.masked = nn.Parameter(torch.randn(d) * 0.05)
        self.g0, self.gl = nn.Parameter(torch.ones(d)), nn.Parameter(torch.ones(d))
        self.blocks = nn.ModuleList([Block(d, layers) for _ in range(layers)])
        a = torch.arange(512).float()[:, None] * (10000 ** (-torch.arange(HEAD // 2).float() / (HEAD // 2)))[None]
        self.register_buffer("cos", a.cos()); self.register_buffer("sin", a.sin())

    def words(self, b, flat=None):
        """Sums of the rows of each different word of a batch."""
        return F.embedding_bag(b["flat"] if flat is None else flat, self.emb, b["off"], mode="sum")

    def core(self, xu, inv, hide, seg, p):
        """xu: different words; inv: which stands where; hide: masked places; seg: sentence of each place or None."""
        x = F.embedding(inv, xu)
        if hide is not None:
            x = torch.where(hide[..., None], self.masked, x)
        x = F.dropout(rms(x, self.g0), p, self.training)
        mask = left = right = None
        if seg is not None:
            mask = (seg[:, :, None] == seg[:, None, :])[:, None]
            same = (seg[:, 1:] == seg[:, :-1]).to(x.dtype)
            left, right = F.pad(same, (1, 0))[..., None], F.pad(same, (0, 1))[..., None]
        n = x.shape[1]
        for b in self.blocks:
            x = b(x, mask, left, right, self.cos[:n], self.sin[:n], p)
        return rms(x, self.gl)


class Reader(nn.Module):
    """Encoder and heads."""

    def __init__(self, enc, sizes, nsyn=0):
        super().__init__()
        self.enc = enc
        d = enc.d
        A, R = min(d, 256), 128
        self.u, self.x, self.f, self.l = (nn.Linear(d, sizes[k]) for k in "UXFL")
        self.s, self.n = nn.Linear(d, sizes["S"]), nn.Linear(d, NER_LAYERS * NER_TAGS)
        self.ad, self.ah = nn.Linear(d, A), nn.Linear(d, A)
        self.W, self.wh = nn.Parameter(torch.randn(A, A) / A ** 0.5 * 0.5), nn.Parameter(torch.zeros(A))
        self.rd, self.rh, self.r = nn.Linear(d, R), nn.Linear(d, R), nn.Linear(2 * R, sizes["D"])
        self.hp = 0.2
        if nsyn:
            self.q = nn.Linear(d, WSD_DIM)
            self.E, self.lx = nn.Parameter(torch.randn(nsyn, WSD_DIM) * 0.02), nn.Parameter(torch.randn(50, WSD_DIM) * 0.02)
            self.rank = nn.Parameter(-0.3 * torch.arange(16).float()[None].repeat(4, 1))
            self.count = nn.Parameter(torch.zeros(4))

    def heads(self, h, seg, gold, p):
        """Logits of all heads. gold: head of each place, or None to take the best."""
        drop = lambda t, q: F.dropout(t, q, self.training)
        h = drop(h, p)
        ad, ah = drop(F.relu(self.ad(h)), self.hp), drop(F.relu(self.ah(h)), self.hp)
        arc = ((ad @ self.W) @ ah.transpose(1, 2) + (ah @ self.wh)[:, None, :]).float()
        n = h.shape[1]
        ok = (seg[:, :, None] == seg[:, None, :]) & ~torch.eye(n, dtype=torch.bool, device=h.device)[None]
        arc = arc.masked_fill(~ok, -1e4)
        at = arc.argmax(-1) if gold is None else gold
        rd, rh = drop(self.rd(h), self.hp), drop(self.rh(h), self.hp)
        hh = torch.gather(rh, 1, at[..., None].expand(-1, -1, rh.shape[-1]))
        rel = self.r(torch.cat([F.relu(rd + hh), rd * hh], -1))
        ner = self.n(h).view(*h.shape[:2], NER_LAYERS, NER_TAGS)
        return dict(u=self.u(h).float(), x=self.x(h).float(), f=self.f(h).float(), l=self.l(h).float(), s=self.s(h).float(),
                    n=ner.float(), a=arc, r=rel.float(), at=at)

    def forward(self, xu, inv, hide, seg, gold, p):
        h = self.enc.core(xu, inv, hide, seg, p)
        out = self.heads(h, seg, gold, p)
        out["h"] = h
        return out

    def sense_scores(self, h, b, table, keep=None):
        """Scores [instance, candidate]. h: all places flat; b: see Data.instances."""
        q = self.q(F.dropout(h[b["place"]], 0.1, self.training)).float()
        _, rank, cnt, lex = table
        u = b["senses"]
        v = F.embedding_bag(b["chain"], self.E, b["chain_off"], mode="sum") + self.lx[lex[u]]
        i, c = b["pair_i"], b["pair_c"]
        pos = b["pos"][i]
        prior = self.rank[pos, rank[u][c]] + self.count[pos] * cnt[u][c]
        if keep is not None:
            prior = prior * keep[i]
        s = (v[c] * q[i]).sum(-1) / 4 + prior
        return torch.full(b["good"].shape, -1e4, device=s.device).index_put((i, b["pair_k"]), s)


# ---- optimiser for the matrices of the encoder ----
def orthogonal(g):
    """Newton-Schulz: the nearest orthogonal matrix, batched (Jordan et al. 2024, "Muon")."""
    x = g.bfloat16()
    tall = x.shape[-2] > x.shape[-1]
    if tall:
        x = x.transpose(-1, -2)
    x = x / (x.norm(dim=(-2, -1), keepdim=True) + 1e-7)
    for _ in range(5):
        a = x @ x.transpose(-1, -2)
        x = 3.4445 * x + (-4.7750 * a + 2.0315 * (a @ a)) @ x
    return (x.transpose(-1, -2) if tall else x).float()


class Muon:
    def __init__(self, enc, lr=0.02):
        self.lr, self.groups = lr, {}
        self.params = [w for b in enc.blocks for w in (b.qkv.weight, b.o.weight, b.f1.weight, b.f2.weight)]
        for p in self.params:
            self.groups.setdefault(p.shape, []).append(p)
        self.buf = {s: None for s in self.groups}
        self.f = torch.compile(orthogonal) if hasattr(torch, "compile") and self.params[0].is_cuda else orthogonal

    @torch.no_grad()
    def step(self, factor):
        for s, ps in self.groups.items():
            g = torch.stack([p.grad for p in ps])
            m = self.buf[s]
            if m is None:
                m = self.buf[s] = torch.zeros_like(g)
            m.lerp_(g, 0.05)
            g = g.lerp(m, 0.95)
            d = s[1]
            parts = g.view(len(ps) * (s[0] // d), d, d) if s[0] == 3 * d else g
            o = self.f(parts).view_as(g) * max(1.0, (1 if s[0] == 3 * d else s[0] / s[1])) ** 0.5
            step = self.lr * factor
            for p, u in zip(ps, o):
                p.mul_(1 - 0.05 * step).add_(u, alpha=-step)
