package prepare

import (
	"strings"
	"testing"

	"bookstead/internal/class"
	"bookstead/internal/fault"
)

// What a list's writer writes, its reader reads.
func TestListsComeBack(t *testing.T) {
	students := []class.Student{{ID: "1", Name: "Ana R."}, {ID: "2", Name: "Ben"}}
	for name, x := range map[string]struct {
		text  string
		again func(string) (string, error)
	}{
		"students": {"Ana R., 85, likes, as she says, to read\nBen\nChi D., 61.5", func(s string) (string, error) {
			l, err := ReadStudents(s, students)
			return StudentLines(l), err
		}},
		"days off": {"2026-11-25 to 2026-11-27 Thanksgiving break\n2026-10-12 A holiday", func(s string) (string, error) {
			l, err := ReadRanges(s)
			return RangeLines(l), err
		}},
		"short days": {"2026-12-18 30 Half day\n2026-12-19 0", func(s string) (string, error) {
			l, err := ReadSpecial(s)
			return SpecialLines(l), err
		}},
		"appointments": {"Mon Wed 10:00 to 10:30 Music, takes 15\n2026-10-05 09:00 to 12:00 Museum", func(s string) (string, error) {
			l, err := ReadAppointments(s)
			return AppointmentLines(l), err
		}},
		"rules": {"Ana R. reads aloud 10 minutes a day\nAna R. reads silently 20 minutes 3 times a week, 1 elsewhere\nBen hears a good reader 15 minutes a day", func(s string) (string, error) {
			err := ReadRules(s, students)
			return RuleLines(students), err
		}},
		"copies": {"Short by a Herring: 7\nHeidi: 2 marked\nAt the Back: A Tale: 1 of Ana R.", func(s string) (string, error) {
			l, err := ReadOwned(s)
			return OwnedLines(l), err
		}},
		"offers": {"Heidi: Corner Books 4.50\nHeidi: School Fair 20.00, pack of 6, at most 2", func(s string) (string, error) {
			l, err := ReadOffers(s)
			return OfferLines(l), err
		}},
		"postage": {"Corner Books 3.00", func(s string) (string, error) {
			l, err := ReadSources(s)
			return SourceLines(l), err
		}},
		"ways of asking": {"6 matching\n3 who said it, lessons 1 to 4\n2 turn of phrase", func(s string) (string, error) {
			l, err := ReadWays(s)
			return WayLines(l), err
		}},
		"families": {"Ana R., Ben\nChi D.", func(s string) (string, error) { return FamilyLines(ReadFamilies(s)), nil }},
		"standings": {"2026-09-07 5\n2026-10-05 6\n2026-09-07 8 Ana R.", func(s string) (string, error) {
			c := class.Class{Students: students}
			err := ReadStandings(s, &c)
			return StandingLines(c), err
		}},
	} {
		got, err := x.again("\n  " + strings.ReplaceAll(x.text, "\n", " \n\n") + "\n")
		if err != nil || got != x.text {
			t.Errorf("%s: %q came back as %q (%v)", name, x.text, got, err)
		}
	}
	if students[0].ID != "1" {
		t.Error("a student lost the ID")
	}
}

func TestAppointmentsAsTheyAreTyped(t *testing.T) {
	for _, typed := range []string{"Mon Wed 10:00-10:30 Music", "monday, wed 10:00–10:30 Music", "Mon, Wed. 10:00 to 10:30 Music"} {
		l, err := ReadAppointments(typed)
		if err != nil || AppointmentLines(l) != "Mon Wed 10:00 to 10:30 Music" {
			t.Errorf("%q is read as %q (%v)", typed, AppointmentLines(l), err)
		}
	}
}

func TestListsSayWhichLineIsWrong(t *testing.T) {
	c := class.Class{Students: []class.Student{{Name: "Ana R."}}}
	for text, err := range map[string]error{
		"no name":    fail2(ReadStudents("Ana R.\n, 80", nil)),
		"no number":  fail2(ReadStudents("Ana R.\nBen, fast", nil)),
		"no date":    fail2(ReadRanges("2026-10-12 Holiday\nsome day")),
		"no minutes": fail2(ReadSpecial("2026-12-18 30\n2026-12-19")),
		"no weekday": fail2(ReadAppointments("Mon 10:00-10:30 Music\nsometimes 10:00 to 10:30")),
		"no time":    fail2(ReadAppointments("Mon 10:00-10:30 Music\nTue late to later")),
		"nobody":     ReadRules("Ana R. reads aloud 10 minutes a day\nZoe reads aloud 10 minutes a day", c.Students),
		"no habit":   ReadRules("Ana R. reads aloud 10 minutes a day\nAna R. sings 10 minutes a day", c.Students),
		"no rule":    ReadRules("Ana R. reads aloud 10 minutes a day\nAna R. reads aloud now and then", c.Students),
		"no step":    ReadStandings("2026-09-07 5\n2026-09-08 five", &c),
		"no way":     fail2(ReadWays("6 matching\n3 singing")),
		"no copies":  fail2(ReadOwned("Heidi: 2\nHeidi: some")),
		"no price":   fail2(ReadOffers("Heidi: Fair 2\nHeidi: Fair cheap")),
		"no postage": fail2(ReadSources("Fair 2\nFair")),
		"no child":   ReadStandings("2026-09-07 5\n2026-09-08 5 Zoe", &c),
	} {
		if f := fault.Of(err); err == nil || f.Kind != fault.Invalid || !strings.HasPrefix(f.Message, "Line 2, “") || f.Hint == "" {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func fail2[T any](_ T, err error) error { return err }
