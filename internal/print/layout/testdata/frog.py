"""Makes frog.txt: TeX breaks a paragraph at many widths, for breaker_test.go.

Needs tex (Debian: texlive-binaries texlive-base) on the path. The text is the
opening of "The Frog King", which Knuth and Plass set in their paper. Words are
divided where \\showhyphens divides them; pieces are measured with \\hbox; lines
are read off \\showbox.
"""
import re, subprocess, tempfile, os

TEXT = """In olden times when wishing still helped one, there lived a king whose daughters were all beautiful; and the youngest was so beautiful that the sun itself, which has seen so much, was astonished whenever it shone in her face. Close by the king's castle lay a great dark forest, and under an old lime-tree in the forest was a well, and when the day was very warm, the king's child went out into the forest and sat down by the side of the cool fountain; and when she was bored she took a golden ball, and threw it up on high and caught it; and this ball was her favorite plaything."""
HEAD = r"""# Paragraph broken by TeX 3.141592653 (plain format, cmr10, \frenchspacing, \parindent=0pt,
# \pretolerance=-1) at several widths: an outside check of the line breaker. Text: the opening of
# "The Frog King" as Knuth and Plass set it. Widths in scaled points. Made by frog.py.
# piece WIDTH END TEXT   END: - may be hyphenated, = after a hyphen of its own, . word ends"""


def tex(source):
    """Runs TeX; gives its log with long lines joined, and what it wrote to w.txt."""
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "a.tex"), "w") as f:
            f.write(source)
        subprocess.run(["tex", "-interaction=batchmode", "a.tex"], cwd=folder, stdout=subprocess.DEVNULL)
        log, part = [], ""
        for line in open(os.path.join(folder, "a.log"), encoding="latin1").read().split("\n"):
            part += line
            if len(line) < 79:
                log.append(part)
                part = ""
        widths = os.path.join(folder, "w.txt")
        return log, open(widths).read().split() if os.path.exists(widths) else []


def pieces():
    """The words of TEXT as lists of (piece, end)."""
    words = TEXT.split()
    bare = [re.sub(r"[^A-Za-z-]", "", w) for w in words]
    log, _ = tex(r"\hsize=1pt \showhyphens{" + " ".join(bare) + r"}\bye")
    at = next(i for i, l in enumerate(log) if l.startswith("Underfull"))
    divided = " ".join(log[at + 1 : at + 3]).split("tenrm ")[1].split("\\hbox")[0].split()
    out = []
    for word, d in zip(words, divided):
        parts, piece, k = [], "", 0
        for c in word:
            piece += c
            if c == "-":
                parts.append((piece, "="))
                piece, k = "", k + 1
            elif c.isalpha():
                k = d.index(c, k) + 1
                if "-" not in word and d[k : k + 1] == "-":
                    parts.append((piece, "-"))
                    piece = ""
        out.append(parts + [(piece, ".")])
    return out


def lines(log, count):
    """The text of the lines of each box shown."""
    out, now = [[] for _ in range(count)], None
    for l in "\n".join(log).split("\n"):
        if m := re.search(r"CONFIG (\d+)", l):
            now = out[int(m.group(1))]
        elif now is None:
            continue
        elif l.startswith(".\\hbox("):
            now.append("")
        elif now and (m := re.match(r"\.\.\\tenrm .*\(ligature (.*)\)$", l)):
            now[-1] += m.group(1)
        elif now and (m := re.match(r"\.\.\\tenrm (.)$", l)):
            now[-1] += m.group(1)
        elif now and re.match(r"\.\.\\glue.*3\.33", l):
            now[-1] += " "
    return out


def main():
    items = pieces()
    source = r"\catcode`\_=8 \frenchspacing\parindent=0pt \newwrite\f \immediate\openout\f=w.txt "
    source += "\\def\\m#1{\\setbox0\\hbox{#1}\\immediate\\write\\f{\\number\\wd0}}\n"
    flat = [p for word in items for p in word]
    for piece, _ in flat + [("-", "")]:
        source += "\\m{%s}\n" % piece
    body = "\n".join("".join(p + (r"\discretionary{-}{}{}" if e == "-" else "") for p, e in word) for word in items)
    settings = []  # width, divide or not, tolerance, emergency stretch, ragged margin
    for width in (390, 300, 260, 220, 180, 150, 120, 100):
        settings += [(width, "d", t, e, 0) for t, e in ((200, 0), (1000, 0), (10000, 0), (200, 30))]
        settings += [(width, "d", 10000, 0, 40), (width, "n", 10000, 0, 40), (width, "n", 200, 0, 0), (width, "n", 100, 20, 0)]
    for i, (width, divide, tolerance, emergency, ragged) in enumerate(settings):
        source += r"\setbox1\vbox{\hsize=%dpt \pretolerance=-1 \tolerance=%d \emergencystretch=%dpt \hbadness=10000 \hfuzz=1000pt " % (width, tolerance, emergency)
        if ragged:
            source += r"\rightskip=0pt plus %dpt \spaceskip=3.33333pt " % ragged
        if divide == "n":
            source += r"\hyphenpenalty=10000 "
        source += "\n%s\\par}\n\\message{CONFIG %d}\\showboxbreadth=10000\\showboxdepth=3 \\showbox1\n" % (body, i)
    log, widths = tex(source + r"\bye")
    out = [HEAD]
    for (piece, end), width in zip(flat, widths):
        out.append("piece %s %s %s" % (width, end, piece))
    out.append("hyphen " + widths[len(flat)])
    out.append("# par WIDTH(pt) DIVIDE TOLERANCE EMERGENCY(pt) RAGGED(pt): the lines as TeX broke them")
    for setting, broken in zip(settings, lines(log, len(settings))):
        out.append("par %d %s %d %d %d" % setting)
        out += ["| " + l.strip() for l in broken]
    with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "frog.txt"), "w") as f:
        f.write("\n".join(out) + "\n")


main()
