// Reads calendars with ical.js, an independent parser, one after the other as a
// calendar program imports them: a later event replaces an earlier one of the
// same UID when its SEQUENCE is not lower, and a cancelled one is taken out.
// Writes what is then in the calendar as JSON.
import { readFileSync } from 'node:fs'
import ICAL from '../../../../node_modules/ical.js/dist/ical.js'

const held = new Map()
let name = ''
for (const file of process.argv.slice(2)) {
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(file, 'utf8')))
  name = calendar.getFirstPropertyValue('name')
  for (const component of calendar.getAllSubcomponents('vevent')) {
    const e = new ICAL.Event(component)
    const old = held.get(e.uid)
    if (old && old.sequence > e.sequence) continue
    if (component.getFirstPropertyValue('status') === 'CANCELLED') {
      held.delete(e.uid)
      continue
    }
    held.set(e.uid, {
      uid: e.uid,
      summary: e.summary,
      description: e.description,
      start: e.startDate.toString(),
      end: e.endDate.toString(),
      allDay: e.startDate.isDate,
      zone: e.startDate.zone.tzid,
      sequence: e.sequence,
      stamp: component.getFirstPropertyValue('dtstamp').toString(),
    })
  }
}
console.log(JSON.stringify({ name, events: [...held.values()] }))
