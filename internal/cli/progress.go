package cli

import (
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/schollz/progressbar/v3"
)

// stageWords are the stages of prepare in the words of the progress bar.
var stageWords = map[string]string{
	"import": "Opening the book", "read": "Reading it", "divide": "Dividing it into lessons",
	"draft": "Drafting the lessons", "print": "Setting the pages", "plan": "Laying out the days",
}

// bar is the progress bar on a terminal; on anything else it is silent.
type bar struct {
	pb    *progressbar.ProgressBar
	stage string
}

func newBar(w io.Writer, wanted bool) *bar {
	f, ok := w.(*os.File)
	if !wanted || !ok || !isatty.IsTerminal(f.Fd()) {
		return &bar{}
	}
	return &bar{pb: progressbar.NewOptions(100, progressbar.OptionSetWriter(w), progressbar.OptionClearOnFinish(),
		progressbar.OptionSetWidth(30), progressbar.OptionSetElapsedTime(false), progressbar.OptionSetPredictTime(false))}
}

func (b *bar) at(stage string, done float64) {
	if b.pb == nil {
		return
	}
	if stage != b.stage {
		b.stage = stage
		b.pb.Describe(stageWords[stage])
	}
	b.pb.Set(int(100 * done)) //nolint:errcheck // a terminal that went away is no fault of the kit
}

func (b *bar) done() {
	if b.pb != nil {
		b.pb.Finish() //nolint:errcheck // as above
	}
}

// stopwatch sums the seconds between changes of stage.
type stopwatch struct {
	now     func() time.Time
	stage   string
	since   time.Time
	seconds map[string]float64
}

func (s *stopwatch) at(stage string) {
	if stage == s.stage {
		return
	}
	t := s.now()
	if s.stage != "" {
		s.seconds[s.stage] += t.Sub(s.since).Seconds()
	}
	s.stage, s.since = stage, t
}
