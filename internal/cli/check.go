package cli

import (
	"bufio"

	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type checkCmd struct{}

// Help is shown by "bookstead check --help".
func (checkCmd) Help() string {
	return `Reads answers from standard input as JSON Lines, one a line:

  {"id": "1", "question": "Why did Mary cry?",
   "references": ["Mary cried because she was lonely."],
   "answer": "becuase she was lonely", "grade": 4}

and writes a line for each:

  id         as it was given
  verdict    correct, partly, incorrect, or unsure: it can't be told
  score      0 to 1; from 0.5 the answer is held to be right
  points     what the right answer says and the question doesn't: "point", "state"
             (present, missing, contradicted) and the "words" that stand for it
  sentence   "whole": each sentence has a "subject" and a finite "verb" and can
             stand "alone"; "capital" at the start and "end" mark; "count" of
             sentences and of "words"
  mechanics  slips: "kind" (spelling, capital, apostrophe, twice, article, mixed
             up, end mark), "start" and "end" in bytes of the answer, "text",
             and what may have been "meant"
  brief      no longer than one or two sentences of the grade
  advice     for the child: the next thing to mend
  evidence   for the teacher: on what the verdict stands

References are right answers, each right by itself. It is advice and no grade:
the teacher decides.`
}

// Run judges answers.
func (checkCmd) Run(r *runContext) error {
	out := bufio.NewWriter(r.Out)
	if err := prepare.CheckAnswers(r.ctx, out, r.In); err != nil {
		out.Flush()
		return err
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
