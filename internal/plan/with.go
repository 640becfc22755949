package plan

import "bookstead/internal/class"

// With says who a step needs besides the child.
type With string

const (
	// WithTeacher is done with the teacher, the children of the class together.
	WithTeacher With = "teacher"
	// WithEach is done with the teacher by each child singly, as when a child is heard.
	WithEach With = "each"
	// Together is done by the children of the class together, without the teacher.
	Together With = "together"
	// Alone is done by each child alone.
	Alone With = "alone"
)

// WithOf is who a step needs: what the step itself says, else what is usual
// (common practice, no source): background, practice words, reading aloud,
// talking over, reviewing and going over what was written need the teacher;
// reading silently, questions, extensions, quizzes and tests are done alone,
// but words and questions need the teacher in grades 1 and 2.
func WithOf(s Step, grade int) With {
	if s.With != "" {
		return s.With
	}
	switch s.Kind {
	case Reading:
		if s.Mode == class.Silent {
			return Alone
		}
		return WithTeacher
	case Vocabulary, Questions:
		if class.Young(grade) {
			return WithTeacher
		}
		return Alone
	case Again, Extension, Quiz, Test:
		return Alone
	}
	return WithTeacher
}

// NeedsNovel reports whether a child has the novel in hand in a step.
func NeedsNovel(s Step) bool { return s.Kind == Again || s.Kind == Reading && s.Mode != class.Teacher }
