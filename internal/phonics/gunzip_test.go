package phonics

import (
	"compress/gzip"
	"io"
)

func gunzip(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) }
