package lexicon

import (
	"runtime"
	"testing"
)

// BenchmarkOpen reads the pack from its embedded bytes, as a start of the
// program does, and tells how much memory that takes.
func BenchmarkOpen(b *testing.B) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var l *Lexicon
	for b.Loop() {
		data, err := packed.ReadFile("packed/pack.bin")
		if err != nil {
			b.Fatal(err)
		}
		if l, err = Read(data); err != nil {
			b.Fatal(err)
		}
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(int64(after.HeapAlloc)-int64(before.HeapAlloc))/(1<<20), "MiB-kept")
	b.ReportMetric(float64(l.glosses.Len()), "synsets")
}

func BenchmarkSenses(b *testing.B) {
	l := opened(b)
	words := []string{"coil", "doleful", "set", "garden", "wretched", "moor"}
	for i := 0; b.Loop(); i++ {
		w := words[i%len(words)]
		l.Senses(w, Noun)
		l.Senses(w, Verb)
		l.Senses(w, Adjective)
	}
}

// BenchmarkAllDefinitions unpacks every block and tells what they keep.
func BenchmarkAllDefinitions(b *testing.B) {
	data, err := packed.ReadFile("packed/pack.bin")
	if err != nil {
		b.Fatal(err)
	}
	var kept float64
	for b.Loop() {
		l, err := Read(data)
		if err != nil {
			b.Fatal(err)
		}
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		for i := range l.glosses.Len() {
			l.glosses.Text(i)
		}
		runtime.GC()
		runtime.ReadMemStats(&after)
		kept = float64(int64(after.HeapAlloc)-int64(before.HeapAlloc)) / (1 << 20)
		runtime.KeepAlive(l)
	}
	b.ReportMetric(kept, "MiB-kept")
}

func BenchmarkWord(b *testing.B) {
	l := opened(b)
	for _, c := range []struct {
		name string
		do   func()
	}{
		{"Zipf", func() { l.Zipf("garden") }},
		{"Pronunciations", func() { l.Pronunciations("garden") }},
		{"Lemmas", func() { l.Lemmas("gardens", Noun) }},
		{"Correct", func() { l.Correct("gardens") }},
		{"Familiar", func() { l.Familiar(DaleChall, "melancholy") }},
		{"Offensive", func() { l.Offensive("gardening") }},
		{"Syllables", func() { l.Syllables("dolefully") }},
		{"Suggest", func() { l.Suggest("gardin") }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.do()
			}
		})
	}
}
