package pdf

import (
	"bytes"
	"encoding/xml"
	"fmt"

	"bookstead/internal/print"
)

// xmp is the metadata in XML (ISO 16684-1), with the mark that the file means
// to meet PDF/UA-1 (ISO 14289-1, clause 5).
func xmp(f *print.Frames, title string) []byte {
	var b bytes.Buffer
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\"><rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n")
	b.WriteString("<pdfuaid:part>1</pdfuaid:part>\n<dc:format>application/pdf</dc:format>\n")
	fmt.Fprintf(&b, "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n", escaped(title))
	if f.Subject != "" {
		fmt.Fprintf(&b, "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:description>\n", escaped(f.Subject))
	}
	if f.Language != "" {
		fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n", escaped(f.Language))
	}
	if f.Creator != "" {
		fmt.Fprintf(&b, "<xmp:CreatorTool>%s</xmp:CreatorTool>\n", escaped(f.Creator))
	}
	fmt.Fprintf(&b, "<xmp:CreateDate>%s</xmp:CreateDate>\n<pdf:Producer>Bookstead</pdf:Producer>\n", f.Date.UTC().Format("2006-01-02T15:04:05Z"))
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return b.Bytes()
}

func escaped(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a bytes.Buffer takes everything
	return b.String()
}
