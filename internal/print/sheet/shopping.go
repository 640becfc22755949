package sheet

import (
	"fmt"

	"bookstead/internal/materials"
	"bookstead/internal/print"
)

// Shopping is the list of what to buy, on paper.
func Shopping(k Kit, list materials.List) print.Document {
	d := k.document(k.Title+": what to buy", "")
	d.Running.Name, d.Running.Foot = "", ""
	d.Blocks = append(d.Blocks, print.Heading{Level: 1, Text: text("What to buy")})
	t := print.Table{Columns: []print.Column{
		{Head: text("What"), Share: 8}, {Head: text("For"), Share: 3}, {Head: text("Buy"), Share: 2, Align: print.Right}, {Head: text("From"), Share: 4},
		{Head: text("Each"), Share: 2, Align: print.Right}, {Head: text("Together"), Share: 3, Align: print.Right},
	}}
	row := func(cells ...string) {
		r := print.Row{}
		for _, c := range cells {
			r.Cells = append(r.Cells, print.Cell{Texts: []print.Text{text(c)}})
		}
		t.Rows = append(t.Rows, r)
	}
	for _, l := range list.Lines {
		if l.Buy > 0 {
			row(l.What, l.For, fmt.Sprint(l.Buy), l.From, l.Each.String(), l.Total.String())
		}
	}
	row("All together", "", "", "", "", list.Total.String())
	d.Blocks = append(d.Blocks, t)
	for _, u := range list.Unmet {
		d.Blocks = append(d.Blocks, print.Paragraph{Text: text(u)})
	}
	return d
}
