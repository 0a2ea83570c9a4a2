// The pieces of a log's page.
// They never call the backend. Invariant: what is not known is said so, not left out as if it were nothing.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { sightedDrawing } from '../components/competitors.js';
import { endgrain } from '../components/endgrain.js';
import { icon } from '../components/icons.js';
import { photoStrip } from '../components/photo.js';
import { stageDrawing } from '../components/stages.js';
import { air, capital, clockTime, count, dayName, figure, grams, gramsAtLeast, litres, logWeight, rough, size } from '../lib/format.js';
import { link } from '../lib/router.js';
import { MOVED, TEND, woodFound } from '../lib/words-yard.js';
import { BY, ENDING, METHOD, MUSHROOM_FULL, SPAWN, STAGE, STATE, STRAIN_CLASS, checked, next, woodName } from '../lib/words.js';
import { widthWords } from '../lib/words-photos.js';
import { SIGHTED } from '../lib/words-rounds.js';
import { runs } from './runs.js';

/** @import {Entry} from '../api/types.js' */
/** @import {View} from './screen.js' */

const ENDED = new Set(Object.keys(ENDING));

/** @param {View} view */
export function summary({ row }) {
  return html`<section class="sheet log-summary">
    ${endgrain(row, { spoken: true })}
    <div>
      <p class="log-state">${capital(STATE[row.state])}</p>
      <p class="soft">${capital(woodName(row))} · ${MUSHROOM_FULL[row.mushroom]}</p>
      <p>${next(row)}</p>
    </div>
  </section>`;
}

/** What brings an ended log back, by how it left. @type {Record<string, string>} */
const BACK = { lent: 'It is back', stolen: 'It was found', given: 'It is back', sold: 'It is back' };

/**
 * @param {View} view
 * @param {() => void} onUnend
 */
export function acts({ row }, onUnend) {
  const log = { log: row.id };
  const ended = ENDED.has(row.state);
  return html`<nav class="log-acts" aria-label="What to do with this log">
    ${ended ? nothing : html`<a class="button button-main" id="look" href=${link('look', log)}>${icon('camera')} Photograph or look</a>
    <a class="button button-main" id="pick" href=${link('picking', log)}>${icon('basket')} Record a picking</a>`}
    ${ended ? nothing : html`<a class="button" id="condition" href=${link('condition', log)}>${icon('find')} Look at the wood</a>
    <a class="button" id="tend" href=${link('tend', log)}>${icon('hand')} Tend</a>
    <a class="button" id="move" href=${link('move', log)}>${icon('carry')} Move</a>`}
    <a class="button" id="print-tag" href=${link('tags', log)}>Print its tag</a>
    ${ended ? nothing : html`<a class="button" id="moisture" href=${link('moisture', log)}>How wet</a>`}
    ${ended ? html`<button type="button" class="button" id="unend" @click=${onUnend}>${icon('undo')} ${BACK[row.state] ?? 'Take the ending back'}</button>` : nothing}
    <a class="button" id="care-slip" href=${link('care-slip', log)}>${icon('down')} Care slip</a>
    <a class="button" id="edit" href=${link('log-edit', log)}>${icon('edit')} Edit</a>
    ${ended ? nothing : html`<a class="button" id="end" href=${link('ending', log)}>${icon('end')} End this log</a>`}
  </nav>`;
}

/** @param {View} view */
export function details({ row, fields, litres, batch_name, lot_name }) {
  const picked = row.pickings === 0 ? 'nothing picked yet' : `${gramsAtLeast(row.grams, row.unweighed)} in ${count(row.pickings, 'picking')}${row.unweighed ? `, ${row.unweighed} not weighed` : ''}`;
  /** @type {[string, unknown][]} */
  const facts = [
    ['Felled', `${rough(fields.felled, 'day not known')}${batch_name ? `, batch ${batch_name}` : ''}`],
    ['Laid', rough(fields.laid, 'not laid yet')],
    ['Strain', `${fields.strain ? `${fields.strain}${fields.strain_class ? `, ${STRAIN_CLASS[fields.strain_class]}` : ''}` : 'not known'}${row.doubtful ? ' (doubtful: left out of comparisons of strains)' : ''}`],
    ['Spawn', `${fields.spawn ? SPAWN[fields.spawn] : 'not known'}${lot_name ? `, lot ${lot_name}` : ''}`],
    ['Method', fields.method ? METHOD[fields.method] : 'not known'],
    ['Size', `${size(fields) || 'not measured'}${litres === null ? '' : `, about ${figure(litres)} litres of wood`}`],
    ['Spot', row.spot_id ? html`<a class="way-inline" href=${link('spot', { spot: row.spot_id })}>${row.spot ?? 'not known here'}</a>` : 'not set'],
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
    ${entry.what.kind === 'look' ? stageDrawing(entry.what.seen) : entry.what.kind === 'sighting' ? sightedDrawing(entry.what.what) : html`<span class="entry-mark">${icon(MARK[entry.what.kind])}</span>`}
    <div class="entry-words">
      <p><strong>${words}</strong></p>
      <p class="soft">${dayName(entry.day, view.today)}, ${clockTime(entry.at)}</p>
      ${entry.note ? html`<p class="note">${entry.note}</p>` : nothing}
      ${entry.photos.length ? photoStrip(entry.photos, photoWords, (hash) => link('photo', { log: view.row.id, hash })) : nothing}
    </div>
  </li>`;
}

/** @type {Record<string, string>} */
const MARK = { picking: 'basket', check: 'moon', ending: 'end', photo: 'camera', measure: 'find', move: 'carry', condition: 'find', tending: 'hand',
  soak: 'tank', weighing: 'scale', watering: 'water' };

/** @param {Pick<Entry, 'what'>} entry */
export function entryWords({ what }) {
  switch (what.kind) {
    case 'look': return what.seen === 'nothing' ? 'Looked: nothing to see' : `Looked: ${STAGE[what.seen]}`;
    case 'picking': return `Picked: ${[grams(what.grams), what.caps === null ? '' : count(what.caps, 'cap'), spoiled(what)].filter(Boolean).join(', ')}`;
    case 'check': return `Night round: ${checked(what)}`;
    case 'soak': return soaked(what);
    case 'weighing': return `Weighed: ${logWeight(what.grams)}`;
    case 'watering': return `Watered${what.litres_tenths === null ? '' : `: ${litres(what.litres_tenths)}`}`;
    case 'sighting': return `Seen: ${SIGHTED[what.what]}${what.n === null ? '' : ` (${what.n})`}`;
    case 'ending': return `Ended: ${ENDING[what.why]}`;
    case 'move': return `${capital(MOVED[what.reason])}: ${what.spot ?? 'a spot not known here'}`;
    case 'condition': return `Wood: ${woodFound(what)}`;
    case 'tending': return capital(TEND[what.what]);
    case 'photo': return 'Photo';
    case 'measure': return `Cap ${what.cap}: ${widthWords(what)}`;
  }
}

/** @param {{part: 'in' | 'out', water_dc: number | null, grams: number | null}} what */
function soaked({ part, water_dc: water, grams: weight }) {
  const more = [water === null ? '' : `water ${air(water)}`, weight === null ? '' : logWeight(weight)].filter(Boolean).join(', ');
  return `${part === 'in' ? 'Put into the tank' : 'Lifted out of the tank'}${more ? `: ${more}` : ''}`;
}

/** @param {{damaged_pct: number | null, by: import('../api/types.js').By | null}} what */
function spoiled({ damaged_pct, by }) {
  if (damaged_pct === null) return '';
  if (damaged_pct === 0) return 'none damaged';
  return `${damaged_pct} % damaged${by ? ` by ${BY[by]}` : ''}`;
}
