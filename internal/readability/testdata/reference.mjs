// Reads a JSON array of counts and prints what the general-purpose packages
// make of them, in the same order.
import {readFileSync} from 'node:fs'
import {flesch} from 'flesch'
import {fleschKincaid} from 'flesch-kincaid'
import {colemanLiau} from 'coleman-liau'
import {daleChallFormula, daleChallGradeLevel} from 'dale-chall-formula'
import {spacheFormula} from 'spache-formula'
import {automatedReadability} from 'automated-readability'
import {smogFormula} from 'smog-formula'

const out = JSON.parse(readFileSync(0, 'utf8')).map((c) => {
  const counts = {
    sentence: c.Sentences,
    word: c.Words,
    syllable: c.Syllables,
    letter: c.Letters,
    character: c.Characters,
    polysillabicWord: c.Polysyllables
  }
  const daleChall = daleChallFormula({...counts, difficultWord: c.DaleChallUnfamiliar})
  return {
    flesch: flesch(counts),
    fleschKincaid: fleschKincaid(counts),
    colemanLiau: colemanLiau(counts),
    daleChall,
    daleChallGrades: daleChallGradeLevel(daleChall).map((g) => (g === Infinity ? 16 : g)),
    spache: spacheFormula({...counts, unfamiliarWord: c.SpacheUnfamiliar}),
    ari: automatedReadability(counts),
    smog: smogFormula(counts)
  }
})
console.log(JSON.stringify(out))
