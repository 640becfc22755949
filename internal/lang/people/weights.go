package people

// A feature tells something for or against a candidate, or of the step from one
// turn to the next.
const (
	cueNamed          = iota // the cue names the candidate: said Mary
	cueOther                 // the cue names another
	cueDescribed             // the cue describes the candidate: said the old woman
	cueDescribedSure         // and the candidate came in as such
	cueDescribedNot          // the cue describes somebody else who came in as such
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
	stepSameCued             // the cue is certain: the same speaker again
	stepBackCued             // back to who spoke before the last
	stepNewCued              // a third one
	stepRecent               // a third one, whom a cue named not far before
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
var featureNames = [features]string{"cueNamed", "cueOther", "cueDescribed", "cueDescribedSure", "cueDescribedNot", "cueDescribedMay", "cueDescribedMaybe", "cueClash", "cuePronounFits", "cuePronounOpen", "cuePronounIs", "cueIs1", "cueIsNot1", "beatBefore", "beatAfter", "beatMention", "beatOther", "called", "spokenOf", "lastSubject", "lastMention", "often", "unnamed", "teller", "nobodyKnown", "longAgo", "distance", "nextBeat", "cueUnknown", "stepSameCued", "stepBackCued", "stepNewCued", "stepRecent", "stepSame0", "stepBack0", "stepNew0", "stepSame1", "stepBack1", "stepNew1", "stepSame2", "stepBack2", "stepNew2", "stepGoesOn", "stepCalled", "stepTold", "stepSir", "stepSirNot", "stepUnknown", "stepSameBeat", "stepSirNext", "stepSirNextNot"}

// weights are what the features weigh, as [Train] printed them. Who is meant in
// its texts is read with the weights in use, so a repetition gives others by a
// few tenths.
var weights = [features]float64{
	cueNamed:          5.72,
	cueOther:          -2.73,
	cueDescribed:      3.77,
	cueDescribedSure:  6.23,
	cueDescribedNot:   -2.23,
	cueDescribedMay:   0.23,
	cueDescribedMaybe: 2.34,
	cueClash:          -5.00,
	cuePronounFits:    0.85,
	cuePronounOpen:    0.15,
	cuePronounIs:      1.87,
	cueIs1:            5.90,
	cueIsNot1:         -4.71,
	beatBefore:        1.46,
	beatAfter:         1.38,
	beatMention:       0.43,
	beatOther:         -0.42,
	called:            -3.35,
	spokenOf:          -1.09,
	lastSubject:       0.37,
	lastMention:       0.42,
	often:             0.12,
	unnamed:           -0.97,
	teller:            0.05,
	nobodyKnown:       -1.17,
	longAgo:           -0.62,
	distance:          -0.29,
	nextBeat:          -0.20,
	cueUnknown:        0.00,
	stepSameCued:      -0.17,
	stepBackCued:      0.68,
	stepNewCued:       -0.73,
	stepRecent:        -0.13,
	stepSame0:         -0.17,
	stepBack0:         1.46,
	stepNew0:          -1.51,
	stepSame1:         0.48,
	stepBack1:         0.68,
	stepNew1:          -1.25,
	stepSame2:         -0.01,
	stepBack2:         0.20,
	stepNew2:          -0.18,
	stepGoesOn:        6.00,
	stepCalled:        1.11,
	stepTold:          0.83,
	stepSir:           -0.10,
	stepSirNot:        -0.93,
	stepUnknown:       -0.66,
	stepSameBeat:      1.60,
	stepSirNext:       -0.10,
	stepSirNextNot:    -0.86,
}
