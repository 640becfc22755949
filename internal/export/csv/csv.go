// Package csv writes tables as comma-separated values (RFC 4180) that
// spreadsheets open: UTF-8, CRLF, and no cell that a spreadsheet would take for
// a formula. Start with [Write].
package csv

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bookstead/internal/materials"
)

// Write writes a header and rows.
func Write(w io.Writer, header []string, rows [][]string) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, row := range append([][]string{header}, rows...) {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = harmless(c)
		}
		if err := out.Write(cells); err != nil {
			return fmt.Errorf("writing the table: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return nil
}

// harmless puts an apostrophe before what would begin a formula; numbers stay.
func harmless(s string) string {
	if _, err := strconv.ParseFloat(s, 64); err == nil || s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	return "'" + s
}

// Shopping writes a shopping list, its total last.
func Shopping(w io.Writer, l *materials.List) error {
	var rows [][]string
	for _, x := range l.Lines {
		rows = append(rows, []string{x.What, x.For, strconv.Itoa(x.Need), strconv.Itoa(x.Have), strconv.Itoa(x.Buy), x.From,
			strconv.Itoa(x.Packs), x.Each.String(), x.Total.String(), x.Why})
	}
	rows = append(rows, []string{"Total", "", "", "", "", "", "", "", l.Total.String(), strings.Join(l.Unmet, " ")})
	return Write(w, []string{"Item", "For", "Needed", "At hand", "To buy", "From", "Packs", "Price each", "Price", "Why"}, rows)
}
