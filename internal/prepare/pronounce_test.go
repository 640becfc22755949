package prepare

import (
	"context"
	"strings"
	"testing"
)

func TestPronounce(t *testing.T) {
	in := "night\nMAKE\nsaid\nflig\n17\n\nth'\nléger\nself-taught\n"
	var out strings.Builder
	if err := Pronounce(context.Background(), &out, strings.NewReader(in), false); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	if n := strings.Count(in, "\n"); len(lines) != n {
		t.Fatalf("%d lines for %d words", len(lines), n)
	}
	for i, want := range []string{
		"night\tdictionary\tN AY T\tN AY1 T\tn=N igh=AY t=T\tnight\t6",
		"MAKE\tdictionary\tM EY K\tM EY1 K\tm=M a_e=EY k=K\tMAKE\t4",
		"said\tdictionary\tS EH D\tS EH1 D\ts=S ai=EH d=D\tsaid\t-",
		"flig\tpredicted\tF L IH G\tF L IH1 G\tf=F l=L i=IH g=G\tflig\t3",
		"17\tnot known\t\t\t\t\t",
		"\tnot known\t\t\t\t\t",
		"th'\tderived\tDH\tDH\tth=DH\tth'\t2",
		"léger\tdictionary\tL EH JH ER\tL EH1 JH ER0\tl=L e=EH g=JH er=ER\tlég·er\t11",
		"self-taught\tderived\tS EH L F T AO T\tS EH1 L F T AO1 T\ts=S e=EH l=L f=F t=T augh=AO t=T\tself·taught\t12",
	} {
		if lines[i] != want {
			t.Errorf("line %d is\n%q, want\n%q", i+1, lines[i], want)
		}
	}
	for _, l := range lines {
		if strings.Count(l, "\t") != 6 {
			t.Errorf("%q has no seven columns", l)
		}
	}
	out.Reset()
	if err := Pronounce(context.Background(), &out, strings.NewReader("night\n"), true); err != nil || !strings.HasPrefix(out.String(), "night\tpredicted\tN AY T\t") {
		t.Errorf("with the model alone: %q, %v", out.String(), err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if err := Pronounce(ctx, &out, strings.NewReader("night\n"), true); err == nil {
		t.Error("a stopped run went on")
	}
}
