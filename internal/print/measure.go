package print

import "math"

// Length is a distance on paper in 1/65536 of a point (1/72 inch). Whole
// numbers keep layouts the same on every machine.
type Length int64

// Units of length.
const (
	Point Length = 65536
	Inch         = 72 * Point
)

// Points is a length of x points.
func Points(x float64) Length { return Length(math.Round(x * float64(Point))) }

// Millimetres is a length of x millimetres.
func Millimetres(x float64) Length { return Points(x * 72 / 25.4) }

// Points is the length in points.
func (l Length) Points() float64 { return float64(l) / float64(Point) }

// Scale is l·num/den, rounded toward zero.
func (l Length) Scale(num, den int) Length { return l * Length(num) / Length(den) }

// Paper is a size of sheet.
type Paper struct {
	Name          string
	Width, Height Length
}

// Letter is the sheet of North America, 8.5 by 11 inches (ANSI/ASME Y14.1).
func Letter() Paper { return Paper{"Letter", Inch * 17 / 2, 11 * Inch} }

// A4 is the sheet of everywhere else, 210 by 297 mm (ISO 216).
func A4() Paper { return Paper{"A4", Millimetres(210), Millimetres(297)} }

// PaperNamed finds a paper by its name, whatever the case of its letters.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range []Paper{Letter(), A4()} {
		if equalFold(p.Name, name) {
			return p, true
		}
	}
	return Paper{}, false
}
