package english

import (
	"strings"

	"bookstead/internal/lang"
)

// respellings are words as dialect and old print spell them, and the words that
// they are. Annotators read the latter; the text keeps the former.
const respellings = `th'=the o'=of an'=and wi'=with 'em=them ha'=have ol'=old lil'=little po'=poor mo'=more fo'=for jes'=just mus'=must las'=last fus'=first
	t'=the d'=do y'=you ye=you yer=your yo'=you thro'=through tho'=though altho'=although 'n=than e'en=even e'er=ever ne'er=never o'er=over whate'er=whatever
	't=it 'bout=about 'cause=because 'cuz=because cuz=because 'round=around 'neath=beneath 'twixt=between betwixt=between 'til=until 'till=until 'gainst=against 'mongst=amongst
	'ave=have 'ad=had 'as=has 'is=his 'er=her 'im=him 'imself=himself 'e=he 'ow=how 'ere=here 'ouse=house 'orse=horse 'alf=half 'eard=heard 'ead=head 'ome=home 'ole=whole
	'ee=thee tha'=thou 'un=one 'ud=would 'spose=suppose s'pose=suppose 'scuse=excuse 'pon=upon 'fraid=afraid 'nother=another 'nuff=enough 'most=almost 'way=away 'fore=before 'cept=except
	gim=give lem=let feller=fellow fellers=fellows agin=again ag'in=again git=get gits=gets wuz=was sez=says ter=to fer=for allus=always summat=something nowt=nothing owt=anything
	thysen=thyself mysen=myself hissen=himself canna=cannot dinna=don't munnot=mustn't mun=must afore=before atween=between yon=yonder to-day=today to-night=tonight to-morrow=tomorrow yersel=yourself mysel=myself himsel=himself
	shouldst=should wouldst=would couldst=could mayst=may canst=can shalt=shall hast=have hadst=had dost=do doth=does hath=has didst=did wert=were wast=was`

var standard = func() map[string]string {
	m := map[string]string{}
	for w := range strings.FieldsSeq(respellings) {
		odd, plain, _ := strings.Cut(w, "=")
		m[odd] = plain
	}
	return m
}()

// respell returns the usual spelling of a form, or the form itself.
func respell(form string) string {
	if len(form) > 16 || len(form) < 2 && form != "d" {
		return form
	}
	odd := false // is there anything to look up?
	for i := 0; i < len(form); i++ {
		if c := form[i]; c == '\'' || c >= 0x80 {
			odd = true
			break
		}
	}
	if !odd && !plainOdd[len(form)] {
		return form
	}
	var room [20]byte
	low := appendLower(room[:0], form)
	key := string(low)
	if odd {
		key = strings.NewReplacer("’", "'", "‘", "'").Replace(key)
	}
	plain, ok := standard[key]
	if !ok && odd && len(key) > 4 && strings.HasSuffix(key, "in'") {
		plain, ok = key[:len(key)-1]+"g", true // goin'
	}
	if !ok {
		return form
	}
	if c := strings.TrimLeft(form, "'’‘"); c != "" && c[0] >= 'A' && c[0] <= 'Z' {
		return strings.ToUpper(plain[:1]) + plain[1:]
	}
	return plain
}

// plainOdd tells the lengths of respelled words without an apostrophe.
var plainOdd = func() (t [17]bool) {
	for w := range standard {
		if !strings.Contains(w, "'") {
			t[len(w)] = true
		}
	}
	return t
}()

// spelled runs an annotator on usual spellings and puts the forms back.
func spelled(ts []lang.Token, run func()) {
	type change struct {
		at   int
		form string
	}
	var changes []change
	for i := range ts {
		if p := respell(ts[i].Form); p != ts[i].Form {
			changes = append(changes, change{i, ts[i].Form})
			ts[i].Form = p
		}
	}
	defer func() {
		for _, c := range changes {
			ts[c.at].Form = c.form
		}
	}()
	run()
}
