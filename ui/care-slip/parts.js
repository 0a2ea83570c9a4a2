// The slip's sentences: what a log needs where it is in its life, and its record line by line.
// They never call the backend. Invariant: each piece of advice names its source or says that it has none.

import { capital, count, dayName, grams, gramsAtLeast, rough, size } from '../lib/format.js';
import { entryWords } from '../log/parts.js';
import { capsAt, ENDING, METHOD, MUSHROOM_FULL, SPAWN, STRAIN_CLASS, next, woodName } from '../lib/words.js';

/** @import {Entry, LogView, PdfPart} from '../api/types.js' */

/** What it is, line by line. @param {LogView} view @returns {[string, string][]} */
export function facts(view) {
  const { row, fields } = view;
  return [
    ['Mushroom', capital(MUSHROOM_FULL[row.mushroom])],
    ['Strain', fields.strain ? `${fields.strain}${fields.strain_class ? `, ${STRAIN_CLASS[fields.strain_class]}` : ''}${row.doubtful ? ' (doubtful)' : ''}` : 'Not known'],
    ['Wood', capital(woodName(row))],
    ['Size', capital(size(fields) || 'not measured')],
    ['Felled', capital(rough(fields.felled, 'day not known'))],
    ['Laid', capital(rough(fields.laid, 'not laid yet'))],
    ['Spawn', capital([fields.spawn ? SPAWN[fields.spawn] : '', fields.method ? METHOD[fields.method] : ''].filter(Boolean).join(', ') || 'not known')],
    ['Bears for', `About ${view.life.years.from} to ${view.life.years.to} years from laying`],
  ];
}

/** What it gave, by year. @param {LogView} view */
export function gave({ row, entries }) {
  const picked = entries.flatMap((e) => (e.what.kind === 'picking' ? [{ ...e, what: e.what }] : []));
  const years = [...new Set(picked.map((e) => e.day.slice(0, 4)))].sort();
  if (row.pickings === 0) return 'Nothing was picked from it yet.';
  return `${capital(gramsAtLeast(row.grams, row.unweighed))} in ${count(row.pickings, 'picking')}. By year: ${years.map((year) => `${year} ${yearSum(picked, year)}`).join('; ')}.`;
}

/**
 * @param {{day: string, what: {grams: number | null}}[]} picked
 * @param {string} year
 */
function yearSum(picked, year) {
  const mine = picked.filter((e) => e.day.startsWith(year));
  const weighed = mine.filter((e) => e.what.grams !== null);
  const sum = weighed.reduce((n, e) => n + (e.what.grams ?? 0), 0);
  return weighed.length === 0 ? 'not weighed' : weighed.length < mine.length ? `at least ${grams(sum)}` : grams(sum);
}

/** What whoever has it should mind. */
export const MIND = [
  'Cook its mushrooms right through: raw or half-cooked shiitake can give a rash.',
  'Eat only what was planted and you are sure of: deadly look-alikes grow on wood. When in doubt, leave it and ask someone licensed to tell.',
  'A wet log is heavy: lift with two, from the knees.',
  'Nothing on it that a label does not allow on food. Follow the local rules, also on moving firewood.',
];

/** Its record, newest first. @param {LogView} view */
export const record = (view) => view.entries.map((e) => line(e)).filter((words) => words !== '');

/** The slip on paper: what the screen shows. @param {LogView} view @returns {PdfPart[]} */
export function paper(view) {
  const heading = (/** @type {string} */ words, first = false) => /** @type {PdfPart} */ ({ part: 'heading', words, first });
  const list = (/** @type {string[]} */ all) => all.map((words) => /** @type {PdfPart} */ ({ part: 'words', words: `– ${words}` }));
  return [
    heading(slipTitle(view), true),
    ...facts(view).map((cells) => /** @type {PdfPart} */ ({ part: 'row', cells, head: false })),
    heading('What it needs'), ...list(needs(view)),
    heading('What it did'), { part: 'words', words: gave(view) }, ...list(record(view)),
    heading('Mind'), ...list(MIND),
    { part: 'words', words: written(view) },
  ];
}

/** @param {LogView} view */
export const slipTitle = ({ row }) => `Log ${row.tag}: ${MUSHROOM_FULL[row.mushroom]} on ${woodName(row)}`;

/** @param {LogView} view */
export const written = ({ today }) => `Written on ${dayName(today)} from its record.`;

/** @param {LogView} view */
export function needs(view) {
  const { row, fields } = view;
  const hericium = row.mushroom !== 'shiitake';
  const totem = fields.method === 'totem';
  /** @type {string[]} */
  const out = [];
  if (view.first_fruit) out.push(`First fruit is expected between ${dayName(view.first_fruit.from)} and ${dayName(view.first_fruit.to)}.`);
  else if (!isEnded(row.state)) out.push(next(row));
  out.push('Shade all year, wind kept off, and its bark kept on (common practice).');
  out.push('Without rain for a week, above all over 24 °C, water it overnight (published: University of Kentucky FOR-85).');
  out.push(totem
    ? 'A totem is watered, not soaked: its joints part. Its foot stands on the soil (from memory).'
    : hericium ? 'It is watered, as a rule not soaked (common practice).'
      : 'To bring a flush, soak it 8 to 12 hours in clean, cool water, not before it is a full year old, then let it rest 7 to 10 weeks (published: University of Kentucky FOR-85).');
  if (row.strain_class === 'cold') out.push('Cold strains are as a rule not soaked for a flush (published: Washington State University).');
  out.push(hericium
    ? 'Pick while white, with spines of about 1 cm; yellowing means late (common practice).'
    : 'Pick while the rim is still turned under, half to three quarters open (common practice).');
  out.push('Slugs come a couple of hours after dark: pick them off by hand (common practice).');
  return out;
}

/** @param {string} words */
const small = (words) => words.charAt(0).toLowerCase() + words.slice(1);

/** @param {string} state */
const isEnded = (state) => state in ENDING;

/**
 * One line of the record; empty for what a new owner has no use for.
 * @param {Entry} entry
 */
function line({ day, what, note }) {
  const words = said(what);
  return words ? `${dayName(day)}: ${words}${note ? ` – ${note}` : ''}` : '';
}

/** @param {Entry['what']} what */
function said(what) {
  switch (what.kind) {
    case 'look': return what.seen === 'nothing' ? '' : `${capsAt(what.seen)} seen`;
    case 'picking': return `picked ${grams(what.grams)}${what.caps === null ? '' : `, ${count(what.caps, 'cap')}`}`;
    case 'ending': return ENDING[what.why];
    case 'check': return '';
    case 'photo': case 'measure': case 'weighing': return '';
    default: return small(entryWords({ what }));
  }
}
