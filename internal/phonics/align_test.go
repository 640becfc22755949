package phonics

import (
	"strings"
	"testing"
)

// Words parted by hand; pronunciations are those of the CMU Pronouncing
// Dictionary.
func TestAlign(t *testing.T) {
	for _, c := range []struct{ word, phones, want string }{
		{"night", "N AY1 T", "n=N igh=AY t=T"},
		{"make", "M EY1 K", "m=M a_e=EY k=K"},
		{"named", "N EY1 M D", "n=N a_e=EY m=M d=D"},
		{"have", "HH AE1 V", "h=HH a=AE ve=V"},
		{"ship", "SH IH1 P", "sh=SH i=IH p=P"},
		{"knee", "N IY1", "kn=N ee=IY"},
		{"box", "B AA1 K S", "b=B o=AA x=K+S"},
		{"table", "T EY1 B AH0 L", "t=T a=EY b=B le=AH+L"},
		{"rabbit", "R AE1 B AH0 T", "r=R a=AE bb=B i=AH t=T"},
		{"jumped", "JH AH1 M P T", "j=JH u=AH m=M p=P ed=T"},
		{"wanted", "W AO1 N T AH0 D", "w=W a=AO n=N t=T e=AH d=D"},
		{"horn", "HH AO1 R N", "h=HH or=AO+R n=N"},
		{"bird", "B ER1 D", "b=B ir=ER d=D"},
		{"night's", "N AY1 T S", "n=N igh=AY t=T s=S"},
		{"bathe", "B EY1 DH", "b=B a_e=EY th=DH"},
		{"nation", "N EY1 SH AH0 N", "n=N a=EY ti=SH o=AH n=N"},
		{"queen", "K W IY1 N", "qu=K+W ee=IY n=N"},
		{"bridge", "B R IH1 JH", "b=B r=R i=IH dge=JH"},
		{"climb", "K L AY1 M", "c=K l=L i=AY mb=M"},
		{"picture", "P IH1 K CH ER0", "p=P i=IH c=K t=CH ure=ER"},
		{"taste", "T EY1 S T", "t=T a_e=EY s=S t=T"},
		{"awakened", "AH0 W EY1 K AH0 N D", "a=AH w=W a=EY k=K e=AH n=N ed=D"},
		{"careful", "K EH1 R F AH0 L", "c=K are=EH+R f=F u=AH l=L"},
		{"hurrying", "HH ER1 IY0 IH0 NG", "h=HH urr=ER y=IY i=IH ng=NG"},
		{"one", "W AH1 N", "o_e=W+AH n=N"},
		{"Colonel", "K ER1 N AH0 L", "c=K olo=ER n=N e=AH l=L"},
	} {
		a := Align(c.word, strings.Fields(c.phones))
		if got := a.String(); got != c.want {
			t.Errorf("Align(%s) = %q, want %q", c.word, got, c.want)
		}
	}
}
