// The pieces of a log's page.
// They never call the backend. Invariant: what is not known is said so, not left out as if it were nothing.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { endgrain } from '../components/endgrain.js';
import { icon } from '../components/icons.js';
import { photoStrip } from '../components/photo.js';
import { stageDrawing } from '../components/stages.js';
import { capital, clockTime, count, dayName, figure, grams, gramsAtLeast, rough, size } from '../lib/format.js';
import { link } from '../lib/router.js';
import { BY, ENDING, METHOD, MUSHROOM_FULL, SPAWN, STAGE, STATE, STRAIN_CLASS, checked, next, woodName } from '../lib/words.js';
import { runs } from './runs.js';

/** @import {Entry} from '../api/types.js' */
/** @import {View} from './screen.js' */

const ENDED = new Set(['spent', 'lost', 'discarded']);

/** @param {View} view */
export function summary({ row, today, entries }) {
  return html`<section class="sheet log-summary">
    ${endgrain(row, today, { entries, spoken: true })}
    <div>
      <p class="log-state">${capital(STATE[row.state])}</p>
      <p class="soft">${capital(woodName(row))} · ${MUSHROOM_FULL[row.mushroom]}</p>
      <p>${next(row)}</p>
    </div>
  </section>`;
}

/** @param {View} view */
export function acts({ row }) {
  const log = { log: row.id };
  const ended = ENDED.has(row.state);
  return html`<nav class="log-acts" aria-label="What to do with this log">
    ${ended ? nothing : html`<a class="button button-main" id="look" href=${link('look', log)}>${icon('camera')} Photograph or look</a>
    <a class="button button-main" id="pick" href=${link('picking', log)}>${icon('basket')} Record a picking</a>`}
    <a class="button" id="edit" href=${link('log-edit', log)}>${icon('edit')} Edit</a>
    ${ended ? nothing : html`<a class="button" id="end" href=${link('ending', log)}>${icon('end')} End this log</a>`}
  </nav>`;
}

/** @param {View} view */
export function details({ row, fields, litres }) {
  const picked = row.pickings === 0 ? 'nothing picked yet' : `${gramsAtLeast(row.grams, row.unweighed)} in ${count(row.pickings, 'picking')}${row.unweighed ? `, ${row.unweighed} not weighed` : ''}`;
  /** @type {[string, string][]} */
  const facts = [
    ['Felled', rough(fields.felled, 'day not known')],
    ['Laid', rough(fields.laid, 'not laid yet')],
    ['Strain', fields.strain ? `${fields.strain}${fields.strain_class ? `, ${STRAIN_CLASS[fields.strain_class]}` : ''}` : 'not known'],
    ['Spawn', fields.spawn ? SPAWN[fields.spawn] : 'not known'],
    ['Method', fields.method ? METHOD[fields.method] : 'not known'],
    ['Size', `${size(fields) || 'not measured'}${litres === null ? '' : `, about ${figure(litres)} litres of wood`}`],
    ['Spot', row.spot ?? 'not set'],
    ['Picked', picked],
  ];
  return html`<section aria-labelledby="facts-title">
    <h2 id="facts-title">What it is</h2>
    <dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
    ${fields.note ? html`<p class="note">${fields.note}</p>` : nothing}
  </section>`;
}

/** @param {View} view */
export function record(view) {
  return html`<section aria-labelledby="record-title">
    <h2 id="record-title">Record</h2>
    ${view.entries.length === 0
      ? html`<p class="soft">Nothing recorded yet. A look, a picking or a night round writes here.</p>`
      : html`<ol class="plain record">${runs(view.entries).map((run) => (run.length === 1 ? line(run[0], view) : folded(run, view)))}</ol>`}
  </section>`;
}

/**
 * @param {Entry[]} run newest first
 * @param {View} view
 */
function folded(run, view) {
  const days = `${dayName(run[run.length - 1].day, view.today)} to ${dayName(run[0].day, view.today)}`;
  return html`<li class="entry entry-folded"><details>
    <summary><span class="entry-mark">${icon('moon')}</span><span class="entry-words"><strong>${run.length} night rounds: no slugs, no damage</strong> <span class="soft">${days}</span></span></summary>
    <ol class="plain">${run.map((entry) => line(entry, view))}</ol>
  </details></li>`;
}

/**
 * @param {Entry} entry
 * @param {View} view
 */
function line(entry, view) {
  const words = entryWords(entry);
  const photoWords = `log ${view.row.tag}, ${dayName(entry.day)}, ${words.toLowerCase()}`;
  return html`<li class="entry" data-entry=${entry.id}>
    ${entry.what.kind === 'look' ? stageDrawing(entry.what.seen) : html`<span class="entry-mark">${icon(MARK[entry.what.kind])}</span>`}
    <div class="entry-words">
      <p><strong>${words}</strong></p>
      <p class="soft">${dayName(entry.day, view.today)}, ${clockTime(entry.at)}</p>
      ${entry.note ? html`<p class="note">${entry.note}</p>` : nothing}
      ${entry.photos.length ? photoStrip(entry.photos, photoWords, (hash) => link('photo', { log: view.row.id, hash })) : nothing}
    </div>
  </li>`;
}

const MARK = { picking: 'basket', check: 'moon', ending: 'end' };

/** @param {Entry} entry */
export function entryWords({ what }) {
  switch (what.kind) {
    case 'look': return what.seen === 'nothing' ? 'Looked: nothing to see' : `Looked: ${STAGE[what.seen]}`;
    case 'picking': return `Picked: ${[grams(what.grams), what.caps === null ? '' : count(what.caps, 'cap'), spoiled(what)].filter(Boolean).join(', ')}`;
    case 'check': return `Night round: ${checked(what)}`;
    case 'ending': return `Ended: ${ENDING[what.why]}`;
  }
}

/** @param {{damaged_pct: number | null, by: import('../api/types.js').By | null}} what */
function spoiled({ damaged_pct, by }) {
  if (damaged_pct === null) return '';
  if (damaged_pct === 0) return 'none damaged';
  return `${damaged_pct} % damaged${by ? ` by ${BY[by]}` : ''}`;
}
