// The slip's sentences: what a log needs where it is in its life, and its record line by line.
// They never call the backend. Invariant: each piece of advice names its source or says that it has none.

import { capital, dayName, grams, count } from '../lib/format.js';
import { capsAt, ENDING, next } from '../lib/words.js';

/** @import {Entry, LogView} from '../api/types.js' */

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

/** @param {string} state */
const isEnded = (state) => state in ENDING;

/**
 * One line of the record; empty for what a new owner has no use for.
 * @param {Entry} entry
 */
export function line({ day, what, note }) {
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
    default: return capital(String(/** @type {{kind: string}} */ (what).kind).replace(/_/g, ' '));
  }
}
