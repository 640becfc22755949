package epub

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

func TestDivisions(t *testing.T) {
	for name, c := range map[string]struct {
		f    files
		want string
	}{
		"epub:type, parts nested in the table of contents": {made(
			toc("t.xhtml", "Title", "i.xhtml", "Preface", "p1.xhtml", "Part <span>I</span>", "c1.xhtml", ">I: Reeds", "c2.xhtml", ">II: Rushes", "p2.xhtml", "Part II", "c3.xhtml", ">III: Home", "e.xhtml", "Epilogue", "n.xhtml", "Notes", "u.xhtml", "Copyright"),
			"t.xhtml", `<body epub:type="frontmatter"><section epub:type="titlepage"><h1>The Pond</h1><p>By A. Heron</p></section></body>`,
			"i.xhtml", `<body epub:type="frontmatter"><section epub:type="preface"><h2>Preface</h2>`+words("Dear", 90)+`</section></body>`,
			"p1.xhtml", `<body epub:type="bodymatter"><section epub:type="part"><h2>Part <span>I</span></h2></section></body>`,
			"c1.xhtml", `<body epub:type="bodymatter"><section epub:type="chapter"><hgroup><h3>I</h3><p epub:type="title">Reeds</p></hgroup>`+words("Mole", 9)+`</section></body>`,
			"c2.xhtml", `<body epub:type="bodymatter"><section epub:type="chapter"><hgroup><h3>II</h3><p epub:type="title">Rushes</p></hgroup>`+words("Rat", 9)+`</section></body>`,
			"p2.xhtml", `<body epub:type="bodymatter"><section epub:type="part"><h2>Part II</h2><p>`+strings.Repeat("Between. ", 80)+`</p></section></body>`,
			"c3.xhtml", `<body epub:type="bodymatter"><section epub:type="chapter"><hgroup><h3>III</h3><p epub:type="title">Home</p></hgroup>`+words("Toad", 9)+`</section></body>`,
			"e.xhtml", `<body epub:type="bodymatter"><section epub:type="epilogue"><h2>Epilogue</h2>`+words("Later", 9)+`</section></body>`,
			"n.xhtml", `<body epub:type="backmatter"><section epub:type="endnotes"><h2>Notes</h2><ol><li epub:type="endnote"><p>A pond is small. <a href="c1.xhtml#r1" epub:type="backlink">↩</a></p></li></ol></section></body>`,
			"u.xhtml", `<body epub:type="backmatter"><section epub:type="copyright-page"><h2>Copyright</h2><p>None.</p></section></body>`),
			`part | Part I | 
part | Part II | 
front -1 |  | The Pond | By A. Heron
introduction -1 |  | Preface | Dear pond pond p
chapter 0 | Chapter I | Reeds | Mole pond pond p
chapter 0 | Chapter II | Rushes | Rat pond pond po
introduction 1 | Part II |  | Between. Between
chapter 1 | Chapter III | Home | Toad pond pond p
conclusion -1 |  | Epilogue | Later pond pond 
back -1 |  | Notes | A pond is small.
back -1 |  | Copyright | None.
`},
		"one document, fragments, no types": {made(
			toc("a.xhtml#top", "THE POND", "a.xhtml#c1", "Chapter 1. The Bank", "a.xhtml#c2", "Chapter 2. The Hill", "a.xhtml#ab", "About the Author"),
			"a.xhtml", `<h1 id="top">THE POND</h1><p>by A. Heron</p><h2><a id="c1"></a>Chapter 1.<br/>The Bank</h2>`+words("Mole", 9)+`<h2>Chapter 2.</h2><h3 id="c2">THE HILL</h3>`+words("Rat", 9)+`<div id="ab"><h2>About the Author</h2><p>A bird.</p></div>`),
			`front -1 |  | THE POND | by A. Heron
chapter -1 | Chapter 1 | The Bank | Mole pond pond p
chapter -1 | Chapter 2 | The Hill | Rat pond pond po
back -1 |  | About the Author | A bird.
`},
		"headings that are only paragraphs, chapters split over files": {made(
			toc("c0.xhtml", "Cover", "c1.xhtml", "1. The Storm", "c2.xhtml", "2. The Calm"),
			"c0.xhtml", `<p><img src="c.jpg" alt="Cover"/></p><p>The Pond</p>`,
			"c1.xhtml", `<p class="n">1</p><p class="t">THE STORM</p>`+words("Mole", 9),
			"c1b.xhtml", words("And so", 9),
			"c2.xhtml", `<p class="n">2</p><p class="t">THE CALM</p>`+words("Rat", 9)),
			`front -1 |  | Cover | The Pond
chapter -1 | Chapter 1 | The Storm | Mole pond pond p
chapter -1 | Chapter 2 | The Calm | Rat pond pond po
`},
		"no table of contents: numbered headings": {made("",
			"a.xhtml", `<h1>The Pond</h1><p>by A. Heron</p>`,
			"b.xhtml", `<h2>Chapter One</h2>`+words("Mole", 9)+`<h2>Chapter Two</h2><h3>A section</h3>`+words("Rat", 9),
			"c.xhtml", `<h2>Chapter Three</h2>`+words("Toad", 9)),
			`front -1 |  | The Pond | by A. Heron
chapter -1 | Chapter One |  | Mole pond pond p
chapter -1 | Chapter Two | A section | Rat pond pond po
chapter -1 | Chapter Three |  | Toad pond pond p
`},
		"no table of contents: one file a chapter, no headings": {made("", "a.xhtml", words("Mole", 90), "b.xhtml", words("Rat", 90)),
			`chapter -1 |  |  | Mole pond pond p
chapter -1 |  |  | Rat pond pond po
`},
		"titles without numbers, one name through all": {made(
			toc("a.xhtml", "The Fox", "b.xhtml", "The Crow"),
			"a.xhtml", `<h1>The Fox</h1><p>Then Anna saw that Anna was late.</p>`, "b.xhtml", `<h1>The Crow</h1><p>Now Anna and old Anna slept.</p>`),
			`chapter -1 |  | The Fox | Then Anna saw th
chapter -1 |  | The Crow | Now Anna and old
`},
		"a collection": {made(
			toc("a.xhtml", "The Fox", "b.xhtml", "The Crow", "c.xhtml", "The Mouse"),
			"a.xhtml", `<h1>The Fox</h1><p>Then Kit saw that Kit was late.</p>`, "b.xhtml", `<h1>The Crow</h1><p>Now Bo and old Bo slept.</p>`, "c.xhtml", `<h1>The Mouse</h1><p>Here Lu and there Lu ran.</p>`),
			`story -1 |  | The Fox | Then Kit saw tha
story -1 |  | The Crow | Now Bo and old B
story -1 |  | The Mouse | Here Lu and ther
`},
		"sections below chapters are no chapters": {made(
			toc("a.xhtml", "1. The Fox", "a.xhtml#s", ">Morning", "a.xhtml#e", ">Evening", "b.xhtml", "2. The Crow"),
			"a.xhtml", `<h1>1. The Fox</h1><p>Start.</p><h2 id="s">Morning</h2><p>Up.</p><h2 id="e">Evening</h2><p>Down.</p>`, "b.xhtml", `<h1>2. The Crow</h1><p>Night.</p>`),
			`chapter -1 | Chapter 1 | The Fox | Start.
chapter -1 | Chapter 2 | The Crow | Night.
`},
		"parts by their words, in a flat table": {made(
			toc("a.xhtml#p", "PART ONE", "a.xhtml#c", "Chapter 1", "b.xhtml", "Chapter 2", "c.xhtml#p", "PART TWO: Land", "c.xhtml#c", "Chapter 3", "d.xhtml", "Acknowledgments"),
			"a.xhtml", `<h1 id="p">PART ONE</h1><h2 id="c">Chapter 1</h2>`+words("Mole", 9), "b.xhtml", `<h2>Chapter 2</h2>`+words("Rat", 9),
			"c.xhtml", `<h1 id="p">PART TWO</h1><h1>Land</h1><h2 id="c">Chapter 3</h2>`+words("Toad", 9), "d.xhtml", `<h2>Acknowledgments</h2><p>Thanks.</p>`),
			`part | Part One | 
part | Part Two | Land
chapter 0 | Chapter 1 |  | Mole pond pond p
chapter 0 | Chapter 2 |  | Rat pond pond po
chapter 1 | Chapter 3 |  | Toad pond pond p
back -1 |  | Acknowledgments | Thanks.
`},
		"sections nested in one document, no table of contents": {made("", "a.xhtml",
			`<section epub:type="part"><h1>Part One</h1><section epub:type="chapter"><div epub:type="epigraph"><p>A saying.</p></div><h2>I</h2>`+words("Mole", 9)+`</section><section epub:type="chapter"><h2>II</h2>`+words("Rat", 9)+`</section></section>
			<section epub:type="part"><h1>Part Two</h1><section epub:type="chapter"><h2>III</h2>`+words("Toad", 9)+`</section></section>`),
			`part | Part One | 
part | Part Two | 
chapter 0 | Chapter I |  | Mole pond pond p
chapter 0 | Chapter II |  | Rat pond pond po
chapter 1 | Chapter III |  | Toad pond pond p
`},
		"landmarks say where the story begins": {made(
			toc("a.xhtml", "A Word", "b.xhtml", "Mole", "c.xhtml", "Rat")+`<nav epub:type="landmarks"><ol><li><a epub:type="bodymatter" href="b.xhtml">Begin</a></li></ol></nav>`,
			"a.xhtml", `<h1>A Word</h1><p>Read me.</p>`, "b.xhtml", `<h1>Mole</h1><p>And Mole saw Mole.</p>`, "c.xhtml", `<h1>Rat</h1><p>And Mole met Rat or Mole.</p>`),
			`front -1 |  | A Word | Read me.
chapter -1 |  | Mole | And Mole saw Mol
chapter -1 |  | Rat | And Mole met Rat
`},
	} {
		if diff := cmp.Diff(c.want, outlineOf(mustOpen(t, c.f))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestEPUB2(t *testing.T) {
	f := made("", "a.html", `<div id="pg-header">The Project Gutenberg eBook</div><h1 id="t">The Pond</h1><table><tr><td>I.</td><td>Reeds</td></tr></table>`,
		"b.html", `<h2 id="c1">CHAPTER I.<br/>REEDS</h2>`+words("Mole", 9)+`<h2 id="c2">CHAPTER II.<br/>RUSHES</h2>`+words("Rat", 9),
		"n.html", `<h2>Note</h2><p>End.</p>`, "z.html", `<section class="pg-boilerplate"><p>Licence text.</p></section>`)
	f["OPS/toc.ncx"] = `<?xml version="1.0"?><!DOCTYPE ncx PUBLIC "-//NISO//DTD ncx 2005-1//EN" ""><ncx xmlns="http://www.daisy.org/z3986/2005/ncx/"><navMap>
		<navPoint><navLabel><text>The Pond</text></navLabel><content src="a.html#t"/>
		<navPoint><navLabel><text>Chapter I. Reeds</text></navLabel><content src="b.html#c1"/></navPoint>
		<navPoint><navLabel><text>Chapter II. Rushes</text></navLabel><content src="b.html#c2"/></navPoint></navPoint>
		</navMap><pageList><pageTarget value="9"><navLabel><text>9</text></navLabel><content src="b.html#c2"/></pageTarget></pageList></ncx>`
	f["OPS/book.opf"] = strings.NewReplacer(`version="3.0"`, `version="2.0"`, `<manifest>`, `<manifest><item id="ncx" href="toc.ncx" media-type="application/x-dtbncx+xml"/>`,
		`<spine>`, `<spine toc="ncx">`, `</package>`, `<guide><reference type="notes" href="n.html"/></guide></package>`,
		`<dc:creator id="c1">A. Heron</dc:creator>`, `<dc:creator opf:role="aut" xmlns:opf="http://www.idpf.org/2007/opf">A. Heron</dc:creator><dc:creator>C. Reed</dc:creator>`).Replace(f["OPS/book.opf"])
	b := mustOpen(t, f)
	want := `front -1 |  | The Pond | I. Reeds
chapter -1 | Chapter I | Reeds | Mole pond pond p
chapter -1 | Chapter II | Rushes | Rat pond pond po
back -1 |  | Note | End.
`
	if diff := cmp.Diff(want, outlineOf(b)); diff != "" {
		t.Error(diff)
	}
	if b.Source.Format != "epub2" || b.Title != "The Pond" || b.Author != "A. Heron and C. Reed" || b.Language != "en-GB" {
		t.Errorf("%q: %q by %q in %q", b.Source.Format, b.Title, b.Author, b.Language)
	}
	if got := strings.Join(b.Setaside, "|"); got != "The Project Gutenberg eBook|Licence text." {
		t.Errorf("set aside: %q", got)
	}
	if len(b.Pages) != 1 || b.Pages[0] != (book.Page{Offset: b.Chapters[2].Start, Label: "9"}) {
		t.Errorf("pages %v, chapter II starts at %d", b.Pages, b.Chapters[2].Start)
	}
}

func TestBlocks(t *testing.T) {
	f := made(toc("a.xhtml", "Chapter 1", "b.xhtml", "Chapter 2"), "a.xhtml", `<h2>Chapter 1</h2>
		<p>The <em>old</em> pond&#8217;s
		bank, caf&eacute;&mdash;<span class="x">very</span> <i>wa</i><i>rm</i>&nbsp;and so<span>ft</span>&#173;ly&#8288;.<a epub:type="noteref" href="#n1">1</a><sup><a href="#n2">2</a></sup></p>
		<blockquote epub:type="z3998:poem"><p><span>The frog sat,</span><br/><span>The frog sang.</span></p><p><span>Then rain,</span><br/><span>Then sun.</span></p></blockquote>
		<div class="poem"><div class="stanza"><p>One line,</p><p>Two <em>lines</em>,</p></div><div class="stanza"><p>Three.</p></div></div>
		<p class="verse">Alone</p><p class="verse">Together</p>
		<hr/>
		<p>* * *</p>
		<p>After.</p><p class="scene-break"></p><p>Later.</p>
		<blockquote epub:type="z3998:letter"><p epub:type="z3998:salutation">Dear Mole:</p><p>Come.</p><footer><p>Yours,<br/>Rat</p></footer></blockquote>
		<blockquote><p>Dear Toad:</p><p epub:type="z3998:signature">Rat</p></blockquote>
		<blockquote>A notice.</blockquote>
		<figure><img src="f.jpg" alt="A frog on a leaf"/><figcaption>The frog</figcaption></figure>
		<p><img src="d.jpg" alt="T"/>hen <img src="frog.png" alt="frog.png"/>it <img src="x" alt="The pond at night"/>slept.</p>
		<aside epub:type="footnote"><p>A note.</p></aside>
		<ul><li>reed</li><li>rush <ul><li>deep</li></ul></li></ul>
		<table><tr><td>Mole</td><td>Rat</td></tr></table>
		<pre>  a
  b</pre>
		<p class="it">All slanted.</p>
		<p>First half.<br/><br/>Second half.</p>
		<script>no()</script><p hidden="hidden">No.</p><nav epub:type="page-list"><ol><li>No</li></ol></nav>
		<h3>Night</h3><p>End.</p><hr/>`, "b.xhtml", `<h2>Chapter 2</h2><hr/><p>Last.</p>`)
	f["OPS/s.css"] = `/* .y {font-style: italic} */ p.it, .z { color: red; font-style: italic; } .x{font-style:italic}`
	f["OPS/book.opf"] = strings.Replace(f["OPS/book.opf"], "<manifest>", `<manifest><item id="css" href="s.css" media-type="text/css"/>`, 1)
	b := mustOpen(t, f)
	want := []string{
		"heading|Chapter 1",
		"paragraph|The _old_ pond’s bank, café—_very warm_\u00a0and softly.",
		"verse|The frog sat,\nThe frog sang.",
		"verse|Then rain,\nThen sun.",
		"verse|One line,\nTwo _lines_,",
		"verse|Three.",
		"verse|Alone\nTogether",
		"scenebreak|* * *",
		"paragraph|After.",
		"scenebreak|* * *",
		"paragraph|Later.",
		"letter|Dear Mole:", "letter|Come.", "letter|Yours,\nRat",
		"letter|Dear Toad:", "letter|Rat",
		"quote|A notice.",
		"caption|A frog on a leaf", "caption|The frog",
		"paragraph|Then it slept.", "caption|The pond at night",
		"note|A note.",
		"paragraph|reed", "paragraph|rush", "paragraph|deep",
		"quote|Mole Rat",
		"quote|a\nb",
		"paragraph|_All slanted._",
		"paragraph|First half.", "paragraph|Second half.",
		"heading|Night", "paragraph|End.",
		"heading|Chapter 2", "paragraph|Last.",
	}
	if diff := cmp.Diff(want, blocksOf(b)); diff != "" {
		t.Error(diff)
	}
}

func TestSpacers(t *testing.T) {
	rare := "<h1>Chapter 1</h1>" + strings.Repeat("<p>A.</p>", 9) + "<p>&nbsp;</p><p>B.</p>"
	if got := strings.Join(blocksOf(mustOpen(t, made("", "a.xhtml", rare))), " "); strings.Count(got, "scenebreak") != 1 {
		t.Errorf("a rare empty paragraph parts scenes: %s", got)
	}
	usual := "<h1>Chapter 1</h1>" + strings.Repeat("<p>A.</p><p>&nbsp;</p>", 9)
	if got := strings.Join(blocksOf(mustOpen(t, made("", "a.xhtml", usual))), " "); strings.Contains(got, "scenebreak") {
		t.Errorf("an empty paragraph after each is none: %s", got)
	}
}

func TestPages(t *testing.T) {
	body := `<h2 id="x">Chapter 1</h2><span epub:type="pagebreak" id="p7" title="7"/><p>One <span epub:type="pagebreak" id="p8">8</span>two.</p><div role="doc-pagebreak" id="page9" aria-label="Page 9"></div><p>Three.</p>`
	at := func(b *book.Book, s string) int { return strings.Index(b.Text, s) }
	b := mustOpen(t, made("", "a.xhtml", body))
	if diff := cmp.Diff([]book.Page{{Offset: at(b, "One"), Label: "7"}, {Offset: at(b, " two"), Label: "8"}, {Offset: at(b, "Three"), Label: "9"}}, b.Pages); diff != "" {
		t.Error("page breaks:", diff)
	}
	b = mustOpen(t, made(toc("a.xhtml", "Chapter 1")+`<nav epub:type="page-list"><ol><li><a href="a.xhtml#x">vi</a></li><li><a href="a.xhtml#p8">vii</a></li><li><a href="a.xhtml#gone">viii</a></li></ol></nav>`, "a.xhtml", body))
	if diff := cmp.Diff([]book.Page{{Offset: 0, Label: "vi"}, {Offset: at(b, " two"), Label: "vii"}}, b.Pages); diff != "" {
		t.Error("page list:", diff)
	}
	if strings.Contains(b.Text, "8") {
		t.Errorf("a page number is in the text: %q", b.Text)
	}
}

func TestBrokenMarkup(t *testing.T) {
	f := made(toc("a.xhtml", "Chapter 1", "b.xhtml", "Chapter 2", "gone.xhtml", "Gone"),
		"a.xhtml", "", "b.xhtml", "", "c.xhtml", "", "gone.xhtml", "x")
	f["OPS/a.xhtml"] = `<html><head><title/><script src="x"/></head><body><a id="q"/><h2>Chapter 1</h2><p>Mole &unknown; & <b>Rat<p>ran.</body>`
	f["OPS/b.xhtml"] = "\xff\xfe" + wide(`<?xml version="1.0" encoding="utf-16"?><html><body><h2>Chapter 2</h2><p>Zoë slept.</p></body></html>`)
	f["OPS/c.xhtml"] = "<?xml version='1.0' encoding='iso-8859-1'?><html><body><p>Ren\xe9 too.</p></body></html>"
	delete(f, "OPS/gone.xhtml")
	b := mustOpen(t, f)
	want := []string{"heading|Chapter 1", "paragraph|Mole &unknown; & Rat", "paragraph|ran.", "heading|Chapter 2", "paragraph|Zoë slept.", "paragraph|René too."}
	if diff := cmp.Diff(want, blocksOf(b)); diff != "" {
		t.Error(diff)
	}
	if got := strings.Join(b.Notes, "\n"); !strings.Contains(got, `lacks a part that it lists, "OPS/gone.xhtml"`) {
		t.Errorf("notes: %q", got)
	}
}

// wide writes ASCII and Latin-1 letters as UTF-16, low byte first.
func wide(s string) string {
	var out []byte
	for _, r := range s {
		out = append(out, byte(r), byte(r>>8))
	}
	return string(out)
}

func TestMissingChapterIsTold(t *testing.T) {
	b := mustOpen(t, made(toc("a.xhtml", "Chapter 1", "b.xhtml", "Chapter 3"), "a.xhtml", "<h1>Chapter 1</h1><p>A.</p>", "b.xhtml", "<h1>Chapter 3</h1><p>B.</p>"))
	if got := strings.Join(b.Notes, "\n"); !strings.Contains(got, "Chapter 3 follows Chapter 1") {
		t.Errorf("notes: %q", got)
	}
}

func TestStoppedAndProgress(t *testing.T) {
	data := made("", "a.xhtml", "<p>A.</p>", "b.xhtml", "<p>B.</p>").zipped(t)
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Read(ctx, bytes.NewReader(data), int64(len(data)), func(done, total int) { cancel() })
	if !fault.Is(err, fault.Canceled) {
		t.Errorf("a stopped import gives %v", err)
	}
	var steps []int
	if _, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), func(done, total int) { steps = append(steps, done*10+total) }); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]int{2, 12, 22}, steps); diff != "" {
		t.Error(diff)
	}
}
