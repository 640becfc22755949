package prepare

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bookstead/internal/fault"
	"bookstead/internal/plan"
)

// Lists of what there is of novels and what they cost, typed as the lists of a
// class are (lines.go).

// ReadOwned reads copies at hand: "Short by a Herring: 7", "…: 2 marked", "…: 1
// of Ana R.".
func ReadOwned(text string) (out []plan.Owned, err error) {
	const hint = "Write it as in “Short by a Herring: 7”, “Short by a Herring: 2 marked” or “Short by a Herring: 1 of Ana R.”."
	err = each(text, func(line string, _ []string) error {
		title, rest, ok := cutLast(line, ":")
		f := strings.Fields(rest)
		if !ok || len(f) == 0 {
			return fault.New(fault.Invalid, "the number of copies is missing.", hint)
		}
		n, err := strconv.Atoi(f[0])
		if err != nil || n < 0 {
			return fault.New(fault.Invalid, fmt.Sprintf("%q is not a number of copies.", f[0]), hint)
		}
		o := plan.Owned{Book: title, Count: n}
		if f = f[1:]; len(f) > 0 && f[0] == "marked" {
			o.Marked, f = true, f[1:]
		}
		if len(f) > 1 && f[0] == "of" {
			o.Family, f = strings.Join(f[1:], " "), nil
		}
		if len(f) > 0 {
			return fault.New(fault.Invalid, fmt.Sprintf("“%s” is not understood.", strings.Join(f, " ")), hint)
		}
		out = append(out, o)
		return nil
	})
	return out, err
}

// OwnedLines writes what ReadOwned reads.
func OwnedLines(list []plan.Owned) string {
	return write(list, func(o plan.Owned) string {
		out := fmt.Sprintf("%s: %d", o.Book, o.Count)
		if o.Marked {
			out += " marked"
		}
		if o.Family != "" {
			out += " of " + o.Family
		}
		return out
	})
}

// ReadOffers reads what novels cost where: "Short by a Herring: Corner Books
// 4.50, pack of 6, at most 2".
func ReadOffers(text string) (out []plan.Offer, err error) {
	const hint = "Write it as in “Short by a Herring: Corner Books 4.50” or “Short by a Herring: Corner Books 20.00, pack of 6, at most 2”."
	err = each(text, func(line string, _ []string) error {
		title, rest, ok := cutLast(line, ":")
		parts := strings.Split(rest, ", ")
		source, price, ok2 := cutLast(parts[0], " ")
		if !ok || !ok2 {
			return fault.New(fault.Invalid, "the shop or the price is missing.", hint)
		}
		o := plan.Offer{Book: title, Source: source}
		var err error
		if o.Price, err = readCents(price); err != nil {
			return err
		}
		for _, x := range parts[1:] {
			if _, err := fmt.Sscanf(x, "pack of %d", &o.Pack); err == nil {
				continue
			}
			if _, err := fmt.Sscanf(x, "at most %d", &o.Most); err != nil {
				return fault.New(fault.Invalid, fmt.Sprintf("“%s” is not understood.", x), hint)
			}
		}
		out = append(out, o)
		return nil
	})
	return out, err
}

// OfferLines writes what ReadOffers reads.
func OfferLines(list []plan.Offer) string {
	return write(list, func(o plan.Offer) string {
		out := fmt.Sprintf("%s: %s %s", o.Book, o.Source, o.Price)
		if o.Pack > 1 {
			out += fmt.Sprintf(", pack of %d", o.Pack)
		}
		if o.Most > 0 {
			out += fmt.Sprintf(", at most %d", o.Most)
		}
		return out
	})
}

// ReadSources reads what a shop asks for postage: "Corner Books 3.00".
func ReadSources(text string) (out []plan.Source, err error) {
	err = each(text, func(line string, _ []string) error {
		name, price, ok := cutLast(line, " ")
		if !ok {
			return fault.New(fault.Invalid, "the postage is missing.", "Write the shop and its postage: “Corner Books 3.00”.")
		}
		c, err := readCents(price)
		out = append(out, plan.Source{Name: name, Postage: c})
		return err
	})
	return out, err
}

// SourceLines writes what ReadSources reads.
func SourceLines(list []plan.Source) string {
	return write(list, func(s plan.Source) string { return fmt.Sprintf("%s %s", s.Name, s.Postage) })
}

// ReadFamilies reads names with commas between, a family on each line.
func ReadFamilies(text string) (out [][]string) {
	for _, line := range strings.Split(text, "\n") {
		var names []string
		for _, n := range strings.Split(line, ",") {
			if n = strings.TrimSpace(n); n != "" {
				names = append(names, n)
			}
		}
		if len(names) > 0 {
			out = append(out, names)
		}
	}
	return out
}

// FamilyLines writes what ReadFamilies reads.
func FamilyLines(list [][]string) string {
	return write(list, func(names []string) string { return strings.Join(names, ", ") })
}

// ReadCents reads an amount of money: "4", "4.5", "4.50", "4,50"; none is 0.
func ReadCents(s string) (plan.Cents, error) {
	if strings.TrimSpace(s) == "" {
		return 0, nil
	}
	return readCents(s)
}

func readCents(s string) (plan.Cents, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimLeft(strings.TrimSpace(s), "$£€"), ",", ".", 1), 64)
	if err != nil || v < 0 || v > 1e6 {
		return 0, fault.New(fault.Invalid, fmt.Sprintf("%q is not an amount of money.", s), "Write it as in 4.50.")
	}
	return plan.Cents(math.Round(v * 100)), nil
}

// cutLast cuts a line at the last separator.
func cutLast(s, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+len(sep):]), true
}
