// Lays out the events of a calendar with ical.js, an independent parser, and
// writes the first and the last day of each that touches the days from argument
// 2 to argument 3, one a line, in order.
import { readFileSync } from 'node:fs'
import ICAL from '../../../../node_modules/ical.js/dist/ical.js'

const [, , file, first, last] = process.argv
const calendar = new ICAL.Component(ICAL.parse(readFileSync(file, 'utf8')))
const out = []
for (const component of calendar.getAllSubcomponents('vevent')) {
  const e = new ICAL.Event(component)
  const steps = e.iterator()
  for (let at = steps.next(); at; at = steps.next()) {
    const end = at.clone()
    end.addDuration(e.duration)
    end.adjust(-1, 0, 0, 0)
    if (at.toString() > last) break
    if (end.toString() >= first) out.push(`${at} ${end} ${e.summary}`)
  }
}
console.log(out.sort().join('\n'))
