package importer

import (
	"fmt"
	"strings"
	"unicode"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

// language is one that books come in, with words that every page of it has and
// English has not, or has in another sense.
type language struct {
	tag, name string
	words     []string
}

// languages are tested by their commonest words, function words of any grammar.
var languages = []language{
	{"en", "English", strings.Fields("the and of to a in that it was he i you for with as his on be at had she her not but they is are were have him said this so my all there we me what when which out up one do if them an by or from no then would could were very little")},
	{"fr", "French", strings.Fields("le la les de des du et un une il elle que qui dans pour pas sur au aux ce cette avec je vous nous ne se sa son ses lui mais par plus était est avait tout comme on ils elles leur")},
	{"de", "German", strings.Fields("der die das und ein eine einen nicht ist zu den dem von mit sich auf für war er sie es ich wir ihr auch als wie aber dass daß so hatte noch nach bei um aus wenn nur was im")},
	{"es", "Spanish", strings.Fields("el la los las de y que en un una por con no se su para es al lo como más pero sus le ya o este sí porque esta entre cuando muy sin sobre también me hasta hay donde había era dijo")},
	{"it", "Italian", strings.Fields("il lo la gli le di e che un una in per con non si sua suo del della dei delle al alla come più ma anche era aveva disse io lui lei questo quella nel nella sono è")},
	{"nl", "Dutch", strings.Fields("de het een en van ik te dat die in hij niet zijn op aan met als voor had er maar om hem dan zou of wat mijn men dit zo door over ze zich bij ook tot je mij uit der daar haar naar heb hoe was zei")},
	{"pt", "Portuguese", strings.Fields("o a os as de e que em um uma do da dos das no na por com não se sua seu para é ao mais como mas foi ele ela era disse muito quando já eu também só pelo pela até isso")},
	{"sv", "Swedish", strings.Fields("och i att det som en på är av för med till den han hon inte om ett men var jag sig så hade de vid från då när skulle kunde sade mycket")},
	{"da", "Danish or Norwegian", strings.Fields("og i at det som en på er af av for med til den han hun ikke om et men var jeg sig seg så havde hadde de ved fra da når skulle kunne sagde sa meget")},
	{"pl", "Polish", strings.Fields("i w nie na się że z do to jest a co jak ale o po jego tak za od był już było jej przez tylko był była mnie jeszcze kiedy")},
	{"la", "Latin", strings.Fields("et in est non ad ut cum qui quae quod sed si ex de per ab quam nec aut hoc etiam atque sunt esse erat iam")},
}

// scripts are the letters of languages that are not written in Latin ones.
var scripts = []struct {
	table *unicode.RangeTable
	name  string
}{
	{unicode.Cyrillic, "Russian or another language in Cyrillic letters"}, {unicode.Greek, "Greek"}, {unicode.Han, "Chinese or Japanese"},
	{unicode.Hiragana, "Japanese"}, {unicode.Katakana, "Japanese"}, {unicode.Hangul, "Korean"}, {unicode.Arabic, "Arabic or Persian"},
	{unicode.Hebrew, "Hebrew"}, {unicode.Devanagari, "Hindi or another language in Devanagari letters"}, {unicode.Thai, "Thai"},
}

const (
	sampleWords = 20_000 // are enough to tell
	fewestWords = 60     // of a text that may be refused for its language
	// English prose has four to five words in ten from its list (counted on 87
	// novels: 0.39 to 0.53, and 0.06 to 0.09 from any other list); French, German
	// and Spanish have one in twenty or fewer.
	surelyEnglish = 0.25
	hardlyEnglish = 0.15
)

// checkLanguage refuses a book that is clearly not in English and notes for the
// teacher what is unsure. The text counts, not what the file says of itself.
func checkLanguage(b *book.Book) error {
	text := toldText(b)
	if name := foreignScript(text); name != "" {
		return foreign(name)
	}
	share, other, n := shares(text)
	says := strings.ToLower(b.Language)
	switch {
	case n == 0:
		return nil
	case n >= fewestWords && share < hardlyEnglish && other.share > 2*share && other.share > 0.2:
		return foreign(other.name)
	case share < surelyEnglish && n >= fewestWords:
		b.Notes = append(b.Notes, "The words of this book are not quite those of English prose; the drafts may be poor.")
	case !strings.HasPrefix(says, "en") && says != "" && says != "und":
		b.Notes = append(b.Notes, fmt.Sprintf("The file says that its language is “%s”, but the text is English.", b.Language))
		b.Language = "en"
	}
	return nil
}

func foreign(name string) error {
	return fault.New(fault.Unreadable, "This book seems to be in "+name+". Bookstead reads English books.",
		"Choose an English edition. A book in two languages can be brought in as a text file with the English part alone.")
}

// toldText is what a class reads: licences and notes are often in English even
// when the story is not.
func toldText(b *book.Book) string {
	var sb strings.Builder
	for _, c := range b.Chapters {
		if c.Kind.Told() {
			sb.WriteString(b.Slice(book.Span{Start: c.Body, End: c.End}) + "\n")
		}
	}
	if sb.Len() == 0 {
		return b.Text
	}
	return sb.String()
}

func foreignScript(text string) string {
	counts := make([]int, len(scripts))
	letters := 0
	for i, r := range text {
		if i > 1<<20 {
			break
		}
		if !unicode.IsLetter(r) {
			continue
		}
		letters++
		if r < 0x370 {
			continue
		}
		for k, s := range scripts {
			if unicode.Is(s.table, r) {
				counts[k]++
				break
			}
		}
	}
	for k, n := range counts {
		if n*2 > letters {
			return scripts[k].name
		}
	}
	return ""
}

type share struct {
	name  string
	share float64
}

// shares returns which part of the words are common words of English and of the
// other language that has most, and how many words were looked at.
func shares(text string) (english float64, other share, n int) {
	lists := map[string][]int{}
	for i, l := range languages {
		for _, w := range l.words {
			if k := lists[w]; len(k) == 0 || k[len(k)-1] != i {
				lists[w] = append(k, i)
			}
		}
	}
	hits := make([]int, len(languages))
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if n++; n > sampleWords {
			n--
			break
		}
		for _, i := range lists[strings.ToLower(w)] {
			hits[i]++
		}
	}
	if n == 0 {
		return 0, share{}, 0
	}
	for i := 1; i < len(languages); i++ {
		if s := float64(hits[i]) / float64(n); s > other.share {
			other = share{languages[i].name, s}
		}
	}
	return float64(hits[0]) / float64(n), other, n
}
