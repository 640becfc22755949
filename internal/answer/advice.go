package answer

import (
	"fmt"
	"slices"
	"strings"
)

// advise tells the child one good thing and the one next thing to mend: first
// what is said, then the sentence, then spelling and marks, then length.
func (k *Key) advise(r *Result, t *text) {
	_, _, _, offends := k.judge.lex.OffensiveIn(t.raw)
	if offends {
		r.Evidence = strings.TrimSpace(r.Evidence + " It holds a word that does not belong in class.")
		bad := func(s string) bool { _, _, _, bad := k.judge.lex.OffensiveIn(s); return bad }
		r.Mechanics = slices.DeleteFunc(r.Mechanics, func(s Slip) bool { return bad(s.Text) }) // never written out again
		for i := range r.Points {
			r.Points[i].Words = slices.DeleteFunc(r.Points[i].Words, bad)
		}
	}
	switch {
	case len(t.words) == 0:
		r.Advice = "There is nothing here yet. Say your answer aloud first. Then write down what you said."
	case offends:
		r.Advice = "Write it again in words that you would read aloud in class."
	case r.Verdict == Unsure:
		r.Advice = "I can’t tell whether this is right. Show it to your teacher."
		if k.foreign(t) {
			r.Advice = "I can’t read this. Write it in English, and look at the spelling again."
		}
		if r.Sentence.Words > longestJudged {
			r.Advice = "This is too long for me to judge. Say it in one or two sentences."
		}
	case dontKnow(t):
		r.Advice = "That is honest. Find the place in the story, read it once more, and try again."
	case r.Verdict == Incorrect && k.copied(t):
		r.Advice = "These are the words of the question. Now add the answer to it."
	case r.Verdict == Incorrect:
		r.Advice = k.seek()
	case r.Verdict == Partly:
		r.Advice = "Part of it is here. " + k.more(r)
	case k.verbatim(t) >= 0:
		r.Advice = "This is right. Now say it in your own words."
	default:
		r.Advice = "This answers the question. " + k.mend(r)
	}
}

// seek tells where to look, by what the question asks.
func (k *Key) seek() string {
	q := " " + normal(k.question.raw)
	what := "what the question asks"
	for _, x := range []struct{ word, what string }{
		{" why ", "the reason"}, {" how did ", "how it is done, or how someone feels"}, {" where ", "the place"}, {" when ", "the time"},
		{" who ", "who it is"}, {" how many ", "the number"}, {" what happened ", "what comes next"},
	} {
		if strings.Contains(q, x.word) {
			what = x.what
			break
		}
	}
	return "I can’t find the answer in this yet. Read that part of the story again and look for " + what + "."
}

// more asks for the point that is missing without giving it away.
func (k *Key) more(r *Result) string {
	for _, p := range r.Points {
		if p.State == Contradicted {
			return "But one thing is the other way round in the story. Read that part again and mend it."
		}
	}
	missing := 0
	for _, p := range r.Points {
		if p.State == Missing {
			missing++
		}
	}
	if missing == 1 {
		return "One more thing belongs to it. Read that part again and add it."
	}
	return fmt.Sprintf("%s more things belong to it. Read that part again and add them.", upperFirst(spelled(missing)))
}

func spelled(n int) string {
	if n >= 2 && n <= 6 {
		return []string{"two", "three", "four", "five", "six"}[n-2]
	}
	return "some"
}

// mend names the next thing to put right in an answer that says what it should.
func (k *Key) mend(r *Result) string {
	s := r.Sentence
	switch {
	case !s.Whole && !s.Alone && s.Subject && s.Verb:
		return "Make it a whole sentence: first say what happened, then why or when." + k.begin()
	case !s.Whole:
		return "Make it a whole sentence: say who or what it is about, and what they do or are." + k.begin()
	}
	for _, m := range r.Mechanics {
		switch m.Kind {
		case Spelling:
			if len(m.Meant) > 0 {
				return fmt.Sprintf("Look at the spelling of “%s”. Do you mean “%s”?", m.Text, m.Meant[0])
			}
			return fmt.Sprintf("Look at the spelling of “%s”.", m.Text)
		case Apostrophe:
			return fmt.Sprintf("“%s” needs an apostrophe: “%s”.", m.Text, m.Meant[0])
		case Mixed:
			return fmt.Sprintf("“%s” sounds like another word. Do you mean “%s”?", m.Text, m.Meant[0])
		case Twice:
			return fmt.Sprintf("The word “%s” stands there twice.", m.Text)
		case Article:
			return fmt.Sprintf("Say “%s” here, not “%s”.", m.Meant[0], m.Text)
		case CapitalI:
			return fmt.Sprintf("Write “%s” with a capital letter.", m.Meant[0])
		case EndMark:
			return "Put a period at the end."
		}
	}
	if !r.Brief {
		return "Can you say it in one or two sentences?"
	}
	for _, p := range r.Points {
		if p.State == Missing {
			return "It is a whole sentence. One more thing in the story belongs to it: can you add it?"
		}
	}
	return "It is a whole sentence, and well written."
}

// begin offers the beginning of the answer, where one can be made.
func (k *Key) begin() string {
	full := ""
	if len(k.refs) > 0 {
		full = k.refs[0].raw
	}
	if b := starter(k.question, full); b != "" {
		return " Begin with: “" + b + " …”"
	}
	return ""
}
