package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// source is a package that data comes from, as data/sources.json has it.
type source struct {
	Package string            `json:"package"`
	Version string            `json:"version"`
	Gives   string            `json:"gives"`
	Licence string            `json:"licence"`
	Data    string            `json:"data"`
	Seen    string            `json:"seen"`
	Files   map[string]string `json:"files"` // path in the package -> SHA-256
}

// sources hands out files that are what sources.json says they are.
type sources struct {
	modules, data string
	packages      map[string]source
	read          map[string]bool
}

func openSources(modules, data string) (*sources, error) {
	raw, err := os.ReadFile(filepath.Join(data, "sources.json"))
	if err != nil {
		return nil, err
	}
	var list struct {
		Sources []source `json:"sources"`
	}
	if err := json.Unmarshal(raw, &list); err != nil {
		return nil, fmt.Errorf("reading sources.json: %w", err)
	}
	s := &sources{modules: modules, data: data, packages: map[string]source{}, read: map[string]bool{}}
	for _, p := range list.Sources {
		if p.Licence == "" || p.Seen == "" || p.Version == "" {
			return nil, fmt.Errorf("sources.json tells no version or licence of %q", p.Package)
		}
		s.packages[p.Package] = p
	}
	return s, nil
}

// file reads a file of a package and compares its checksum.
func (s *sources) file(pkg, path string) (string, error) {
	want, ok := s.packages[pkg].Files[path]
	if !ok {
		return "", fmt.Errorf("sources.json lists no %s of %q", path, pkg)
	}
	raw, err := os.ReadFile(filepath.Join(s.modules, filepath.FromSlash(pkg), filepath.FromSlash(path)))
	if err != nil {
		return "", fmt.Errorf("%w (npm ci installs the packages)", err)
	}
	sum := sha256.Sum256(raw)
	if got := hex.EncodeToString(sum[:]); got != want {
		return "", fmt.Errorf("%s of %q has the checksum %s, not %s as sources.json says; is it another version?", path, pkg, got, want)
	}
	s.read[pkg+"\x00"+path] = true
	return string(raw), nil
}

// own reads one of our lists.
func (s *sources) own(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(s.data, name))
}

// unread complains of files in sources.json that nothing was taken from; a
// licence notice may be listed only to be held to its checksum.
func (s *sources) unread() error {
	var left []string
	for _, p := range s.packages {
		for f := range p.Files {
			if strings.HasSuffix(f, ".md") {
				if _, err := s.file(p.Package, f); err != nil {
					return err
				}
			} else if !s.read[p.Package+"\x00"+f] {
				left = append(left, p.Package+": "+f)
			}
		}
	}
	if len(left) > 0 {
		slices.Sort(left)
		return fmt.Errorf("sources.json lists files that are not used: %s", strings.Join(left, ", "))
	}
	return nil
}

// jsString is a string literal of the word lists, which hold no escapes but
// \' and \".
var jsString = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"|'((?:[^'\\]|\\.)*)'`)

// literals returns the string literals behind the first "= [" or "= {".
func literals(js string) ([]string, error) {
	at := strings.Index(js, " = [")
	if at < 0 {
		if at = strings.Index(js, " = {"); at < 0 {
			return nil, fmt.Errorf("there is no list in it")
		}
	}
	var out []string
	for _, m := range jsString.FindAllStringSubmatch(js[at:], -1) {
		s := m[1] + m[2]
		if strings.Contains(s, `\`) {
			return nil, fmt.Errorf("the list holds an escape in %q", s)
		}
		out = append(out, s)
	}
	return out, nil
}
