package pack

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"io"
	"sort"
	"strings"
	"sync"
)

const blockSize = 32 << 10

// Blocks is a store of texts that are unpacked a block at a time, when first
// asked for, and kept. It is safe for use by many goroutines.
type Blocks struct {
	n      int
	starts []byte
	firsts []byte
	data   []byte
	once   []func() block
}

type block struct {
	texts []string
	err   error
}

// ReadBlocks reads a store that takes up all the bytes.
func ReadBlocks(data []byte) (*Blocks, error) {
	if len(data) < 8 {
		return nil, fmt.Errorf("the texts are cut off")
	}
	b, n := int(binary.LittleEndian.Uint32(data)), int(binary.LittleEndian.Uint32(data[4:]))
	if len(data) < 8+8*b {
		return nil, fmt.Errorf("the texts claim %d blocks and have %d bytes", b, len(data))
	}
	s := &Blocks{n: n, starts: data[8 : 8+4*b], firsts: data[8+4*b : 8+8*b], data: data[8+8*b:], once: make([]func() block, b)}
	for i := range s.once {
		s.once[i] = sync.OnceValue(func() block { return s.unpack(i) })
	}
	return s, nil
}

// Len is the number of texts.
func (s *Blocks) Len() int { return s.n }

func (s *Blocks) first(block int) int {
	return int(binary.LittleEndian.Uint32(s.firsts[4*block:]))
}

func (s *Blocks) unpack(i int) block {
	until := s.n
	if i+1 < len(s.once) {
		until = s.first(i + 1)
	}
	r := flate.NewReader(bytes.NewReader(s.data[binary.LittleEndian.Uint32(s.starts[4*i:]):]))
	raw, err := io.ReadAll(r)
	if err != nil {
		return block{err: fmt.Errorf("unpacking block %d: %w", i, err)}
	}
	texts := make([]string, until-s.first(i))
	lengths := make([]int, len(texts))
	for k := range lengths {
		lengths[k], raw = uvarint(raw)
	}
	all := string(raw)
	for k, n := range lengths {
		if n > len(all) {
			return block{err: fmt.Errorf("unpacking block %d: text %d is cut off", i, k)}
		}
		texts[k], all = all[:n], all[n:]
	}
	return block{texts: texts}
}

// Text returns the text with this number, which must be in [0, Len). It is
// empty when the block is damaged, which Verify of the file would have told.
func (s *Blocks) Text(i int) string {
	b := sort.Search(len(s.once), func(b int) bool { return s.first(b) > i }) - 1
	if u := s.once[b](); u.err == nil {
		return u.texts[i-s.first(b)]
	}
	return ""
}

// BlocksWriter gathers texts in order.
type BlocksWriter struct {
	n                    int
	starts, firsts, data []byte
	lengths              []byte
	texts                strings.Builder
	err                  error
}

// Add appends a text and returns its number.
func (w *BlocksWriter) Add(text string) int {
	if w.texts.Len() == 0 && len(w.lengths) == 0 {
		w.firsts = binary.LittleEndian.AppendUint32(w.firsts, uint32(w.n))
		w.starts = binary.LittleEndian.AppendUint32(w.starts, uint32(len(w.data)))
	}
	w.lengths = binary.AppendUvarint(w.lengths, uint64(len(text)))
	w.texts.WriteString(text)
	w.n++
	if w.texts.Len() >= blockSize {
		w.flush()
	}
	return w.n - 1
}

func (w *BlocksWriter) flush() {
	if len(w.lengths) == 0 {
		return
	}
	var buf bytes.Buffer
	z, err := flate.NewWriter(&buf, flate.BestCompression)
	if err == nil {
		_, err = z.Write(append(w.lengths, w.texts.String()...))
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("packing texts: %w", err)
	}
	w.data = append(w.data, buf.Bytes()...)
	w.lengths = nil
	w.texts.Reset()
}

// Bytes returns the store.
func (w *BlocksWriter) Bytes() ([]byte, error) {
	w.flush()
	out := binary.LittleEndian.AppendUint32(nil, uint32(len(w.starts)/4))
	out = binary.LittleEndian.AppendUint32(out, uint32(w.n))
	out = append(append(append(out, w.starts...), w.firsts...), w.data...)
	return out, w.err
}
