// Reads a JSON array of words and prints how many syllables the package syllable
// counts in each.
import {readFileSync} from 'node:fs'
import {syllable} from 'syllable'

console.log(JSON.stringify(JSON.parse(readFileSync(0, 'utf8')).map((w) => syllable(w))))
