package people

import "strings"

// weights of the features, made by Train.
var weights = [features]float64{
	cueNamed: 6, cueNamedNear: 0, cueOther: -3, cueDescribed: 4, cueDescribedMay: 0, cueDescribedMaybe: 2.5, cueClash: -5, cuePronounFits: 1, cuePronounOpen: 0, cuePronounIs: 2.5,
	cueIs1: 6, cueIsNot1: -5, beatBefore: 1.5, beatAfter: 1.5, beatMention: 0.3, beatOther: -0.5, called: -4, spokenOf: -1, lastSubject: 0.7, lastMention: 0.2,
	often: 0.6, unnamed: -0.7, teller: 0, nobodyKnown: -0.5, longAgo: -1, distance: -0.1, nextBeat: 0,
	stepSame0: -1.5, stepBack0: 1.5, stepNew0: -0.5, stepSame1: -0.3, stepBack1: 0.6, stepNew1: -0.5, stepSame2: 0, stepBack2: 0.2, stepNew2: -0.2, stepGoesOn: 6, stepCalled: 1.5, stepTold: 0.8, stepSir: 0.3, stepSirNot: -1, stepUnknown: 0, stepSameBeat: 1,
}

var featureNames = strings.Fields(`cueNamed cueNamedNear cueOther cueDescribed cueDescribedMay cueDescribedMaybe cueClash cuePronounFits cuePronounOpen cuePronounIs cueIs1 cueIsNot1 beatBefore beatAfter beatMention beatOther called spokenOf lastSubject lastMention often unnamed teller nobodyKnown longAgo distance nextBeat cueUnknown stepSame0 stepBack0 stepNew0 stepSame1 stepBack1 stepNew1 stepSame2 stepBack2 stepNew2 stepGoesOn stepCalled stepTold stepSir stepSirNot stepUnknown stepSameBeat spokeBefore`)
