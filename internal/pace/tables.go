package pace

// Season is the part of the school year in which a reading was heard.
type Season uint8

const (
	// MidYear is the zero value: no part of the year in particular. It reads
	// the winter column, the middle of the three.
	MidYear Season = iota
	Fall
	Winter
	Spring
)

var seasonNames = [...]string{"the middle of the year", "fall", "winter", "spring"}

// String names the season in lower case.
func (s Season) String() string {
	if int(s) < len(seasonNames) {
		return seasonNames[s]
	}
	return seasonNames[MidYear]
}

// Percentiles are those of the oral table, from the highest.
var Percentiles = [...]int{90, 75, 50, 25, 10}

// OralSource is the source of [Oral].
const OralSource = "Hasbrouck & Tindal (2017), An update to compiled ORF norms, Technical Report 1702, University of Oregon"

// oral holds words correct per minute: grade 1 first; within a grade the rows
// of [Percentiles]; within a row fall, winter, spring. 0 is a cell that the
// table does not have: nobody is measured in the fall of grade 1.
// The cells are those of 2017, not the older ones of 2006 that still circulate
// under a similar title.
var oral = [6][5][3]int{
	{{0, 97, 116}, {0, 59, 91}, {0, 29, 60}, {0, 16, 34}, {0, 9, 18}},
	{{111, 131, 148}, {84, 109, 124}, {50, 84, 100}, {36, 59, 72}, {23, 35, 43}},
	{{134, 161, 166}, {104, 137, 139}, {83, 97, 112}, {59, 79, 91}, {40, 62, 63}},
	{{153, 168, 184}, {125, 143, 160}, {94, 120, 133}, {75, 95, 105}, {60, 71, 83}},
	{{179, 183, 195}, {153, 160, 169}, {121, 133, 146}, {87, 109, 119}, {64, 84, 102}},
	{{185, 195, 204}, {159, 166, 173}, {132, 145, 146}, {112, 116, 122}, {89, 91, 91}},
}

// Oral returns the words correct per minute at a percentile (90, 75, 50, 25 or
// 10) of a grade and season. ok is false for a cell that the table does not
// have: grades other than 1 to 6, other percentiles, the fall of grade 1.
func Oral(grade int, s Season, percentile int) (wcpm int, ok bool) {
	if grade < 1 || grade > len(oral) {
		return 0, false
	}
	column := 1
	switch s {
	case Fall:
		column = 0
	case Spring:
		column = 2
	}
	for i, p := range Percentiles {
		if p == percentile {
			n := oral[grade-1][i][column]
			return n, n > 0
		}
	}
	return 0, false
}

// Growth is the average weekly improvement in words correct per minute at a
// percentile: from fall to spring in 32 weeks; in grade 1, which has no fall,
// from winter to spring in 16. It is computed from the table, because three
// cells of the column that is printed with it do not follow its own rule.
func Growth(grade, percentile int) (perWeek float64, ok bool) {
	from, weeks := Fall, 32.0
	if grade == 1 {
		from, weeks = Winter, 16
	}
	a, okA := Oral(grade, from, percentile)
	z, okZ := Oral(grade, Spring, percentile)
	if !okA || !okZ {
		return 0, false
	}
	return float64(z-a) / weeks, true
}

// SilentSource is the source of [Silent].
const SilentSource = "Spichtig, Hiebert, Vorstius, Pascoe, Pearson & Radach (2016), Reading Research Quarterly 51(2), 239–259"

// silent holds words per minute at the 25th, 50th and 75th percentile, grade 2
// first. Only readers who understood at least 70 % of the text were counted;
// the odd grades are interpolated between the measured even ones.
var silent = [5][3]int{{87, 106, 136}, {99, 123, 155}, {114, 141, 171}, {123, 149, 179}, {128, 157, 191}}

// Silent returns the silent reading rate in words per minute at the 25th, 50th
// or 75th percentile of grades 2 to 6. Grade 1 was not measured.
func Silent(grade, percentile int) (wpm int, ok bool) {
	if grade < 2 || grade > 6 {
		return 0, false
	}
	switch percentile {
	case 25:
		return silent[grade-2][0], true
	case 50:
		return silent[grade-2][1], true
	case 75:
		return silent[grade-2][2], true
	}
	return 0, false
}

// AdultSource is the source of the adult rates.
const AdultSource = "Brysbaert (2019), How many words do we read per minute?, Journal of Memory and Language 109, 104047"

// Adult rates in words per minute.
const (
	AdultAloud      = 183 // 77 studies, 5,965 readers
	AdultFiction    = 260 // silent; most adults 200 to 320
	AdultNonFiction = 238 // silent; most adults 175 to 300
)
