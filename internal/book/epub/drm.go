package epub

import (
	"encoding/xml"
	"fmt"
	"strings"

	"bookstead/internal/fault"
)

// Fonts may be obfuscated; that hides no text. The two methods in use, from
// EPUB 3.3 section 4.4 and from Adobe.
var fontMethods = map[string]bool{
	"http://www.idpf.org/2008/embedding": true,
	"http://ns.adobe.com/pdf/enc#RC":     true,
}

// checkLocks refuses a book whose text is encrypted.
func (a *archive) checkLocks() error {
	if !a.has("META-INF/encryption.xml") {
		return nil
	}
	data, err := a.read("META-INF/encryption.xml")
	if err != nil {
		return err
	}
	var enc struct {
		Data []struct {
			Method struct {
				Algorithm string `xml:"Algorithm,attr"`
			} `xml:"EncryptionMethod"`
			Ref struct {
				URI string `xml:"URI,attr"`
			} `xml:"CipherData>CipherReference"`
		} `xml:"EncryptedData"`
	}
	if err := xml.Unmarshal(data, &enc); err != nil {
		return locked(fmt.Sprintf("encryption.xml cannot be read: %v", err))
	}
	for _, d := range enc.Data {
		if !fontMethods[d.Method.Algorithm] && !isFont(d.Ref.URI) {
			return locked(fmt.Sprintf("%q is encrypted by %q", d.Ref.URI, d.Method.Algorithm))
		}
	}
	return nil
}

func isFont(name string) bool {
	name = strings.ToLower(name)
	for _, end := range []string{".ttf", ".otf", ".woff", ".woff2"} {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	return false
}

func locked(why string) error {
	return fault.Wrap(fault.Unreadable, fmt.Errorf("finding locks: %s", why), "This book is locked by copy protection, so its text cannot be read.",
		"Use a copy without protection, or type the chapters of the printed book and the passages you need.")
}
