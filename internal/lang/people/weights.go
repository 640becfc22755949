package people

// A feature tells something for or against a candidate, or of the step from one
// turn to the next.
const (
	cueNamed          = iota // the cue names the candidate: said Mary
	cueOther                 // the cue names another
	cueDescribed             // the cue describes the candidate: said the old woman
	cueDescribedMay          // the cue describes somebody whom the candidate may be
	cueDescribedMaybe        // and the candidate was in the mind last
	cueClash                 // the cue is of the other gender
	cuePronounFits           // the cue is a pronoun of the candidate's gender
	cuePronounOpen           // the same, but the gender is not known
	cuePronounIs             // the pronoun in the cue was tied to the candidate; times how surely
	cueIs1                   // said I, and the candidate tells the story
	cueIsNot1                // said I, and the candidate does not; or said she, and it does
	beatBefore               // no cue, and the candidate does something before it in the paragraph
	beatAfter                // no cue, and the candidate does something behind it
	beatMention              // no cue, and the candidate is mentioned beside it
	beatOther                // no cue, and another does something beside it
	called                   // the speech calls the candidate by name
	spokenOf                 // the speech speaks of the candidate
	lastSubject              // the candidate acted last in the telling before
	lastMention              // the candidate was mentioned last there
	often                    // log of how much is told of the candidate hereabouts
	unnamed                  // the candidate has no name
	teller                   // the candidate tells the story
	nobodyKnown              // somebody else
	longAgo                  // the candidate was not mentioned before
	distance                 // log of how far back the last mention lies
	nextBeat                 // the candidate acts first in the paragraph behind
	cueUnknown               // the cue has a subject that nobody is tied to
	stepSame0                // the same speaker again, no telling between
	stepBack0                // back to who spoke before the last
	stepNew0                 // a third one
	stepSame1                // the same three with a little telling between
	stepBack1
	stepNew1
	stepSame2 // and with more
	stepBack2
	stepNew2
	stepGoesOn     // the speech before was left open, and its speaker goes on
	stepCalled     // the turn before called this one by name
	stepTold       // the cue before said to whom
	stepSir        // this turn says sir or madam, which fits the last speaker
	stepSirNot     // which does not fit
	stepUnknown    // on to somebody else
	stepSameBeat   // the same speaker again in one paragraph
	stepSirNext    // the turn before says sir or madam, which fits this one
	stepSirNextNot // which does not fit
	features
)

// featureNames are the constants above, for [Show].
var featureNames = [features]string{"cueNamed", "cueOther", "cueDescribed", "cueDescribedMay", "cueDescribedMaybe", "cueClash", "cuePronounFits", "cuePronounOpen", "cuePronounIs", "cueIs1", "cueIsNot1", "beatBefore", "beatAfter", "beatMention", "beatOther", "called", "spokenOf", "lastSubject", "lastMention", "often", "unnamed", "teller", "nobodyKnown", "longAgo", "distance", "nextBeat", "cueUnknown", "stepSame0", "stepBack0", "stepNew0", "stepSame1", "stepBack1", "stepNew1", "stepSame2", "stepBack2", "stepNew2", "stepGoesOn", "stepCalled", "stepTold", "stepSir", "stepSirNot", "stepUnknown", "stepSameBeat", "stepSirNext", "stepSirNextNot"}

// weights are what the features weigh, as [Train] printed them.
var weights = [features]float64{
	cueNamed:          5.52,
	cueOther:          -2.55,
	cueDescribed:      3.62,
	cueDescribedMay:   0.42,
	cueDescribedMaybe: 1.46,
	cueClash:          -5.07,
	cuePronounFits:    1.23,
	cuePronounOpen:    -0.17,
	cuePronounIs:      1.56,
	cueIs1:            5.67,
	cueIsNot1:         -4.22,
	beatBefore:        1.52,
	beatAfter:         1.03,
	beatMention:       0.64,
	beatOther:         -0.38,
	called:            -2.23,
	spokenOf:          -0.82,
	lastSubject:       0.46,
	lastMention:       0.54,
	often:             0.03,
	unnamed:           -0.57,
	teller:            0.10,
	nobodyKnown:       -1.45,
	longAgo:           -0.68,
	distance:          -0.22,
	nextBeat:          -0.19,
	cueUnknown:        0.00,
	stepSame0:         -0.76,
	stepBack0:         1.54,
	stepNew0:          -1.49,
	stepSame1:         0.40,
	stepBack1:         0.85,
	stepNew1:          -1.30,
	stepSame2:         -0.31,
	stepBack2:         0.59,
	stepNew2:          -0.26,
	stepGoesOn:        6.05,
	stepCalled:        0.81,
	stepTold:          0.82,
	stepSir:           -0.29,
	stepSirNot:        -0.91,
	stepUnknown:       -0.93,
	stepSameBeat:      2.07,
	stepSirNext:       -0.16,
	stepSirNextNot:    -0.92,
}
