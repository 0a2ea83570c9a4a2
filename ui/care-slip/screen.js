// A log's care slip, to print and hand over with it: what it is, what it needs, what it did, what to mind.
// It never writes. Invariant: on paper there is the slip alone, in black on white, and nothing that can be tapped.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { capital, dayName, grams, gramsAtLeast, count, rough, size } from '../lib/format.js';
import { back } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { METHOD, MUSHROOM_FULL, SPAWN, STRAIN_CLASS, woodName } from '../lib/words.js';
import { line, needs } from './parts.js';

/** @import {LogView} from '../api/types.js' */

export const topics = LOGS;
export const title = (/** @type {LogView} */ view) => `Care slip of log ${view.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<LogView>}
 */
export const load = ({ log }) => call('log_show', { log });

/** @param {LogView} view */
export function render(view) {
  const { row, fields, today } = view;
  const picked = view.entries.flatMap((e) => (e.what.kind === 'picking' ? [{ ...e, what: e.what }] : []));
  const seasons = [...new Set(picked.map((e) => e.day.slice(0, 4)))].sort();
  /** @type {[string, string][]} */
  const facts = [
    ['Mushroom', MUSHROOM_FULL[row.mushroom]],
    ['Strain', fields.strain ? `${fields.strain}${fields.strain_class ? `, ${STRAIN_CLASS[fields.strain_class]}` : ''}${row.doubtful ? ' (doubtful)' : ''}` : 'not known'],
    ['Wood', woodName(row)],
    ['Size', size(fields) || 'not measured'],
    ['Felled', rough(fields.felled, 'day not known')],
    ['Laid', rough(fields.laid, 'not laid yet')],
    ['Spawn', [fields.spawn ? SPAWN[fields.spawn] : '', fields.method ? METHOD[fields.method] : ''].filter(Boolean).join(', ') || 'not known'],
    ['Bears for', `about ${view.life.years.from} to ${view.life.years.to} years from laying`],
  ];
  return html`${head('Care slip', { back: { label: 'Back', onBack: () => on.back(view) } })}
    <p class="acts no-print"><button type="button" class="button button-main" id="print" @click=${on.print}>${icon('down')} Print it</button></p>
    <article class="sheet slip" aria-labelledby="slip-title">
      <h2 id="slip-title">Log ${row.tag}: ${MUSHROOM_FULL[row.mushroom]} on ${woodName(row)}</h2>
      <dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${capital(value)}</dd></div>`)}</dl>
      <h3>What it needs</h3>
      <ul class="slip-list">${needs(view).map((need) => html`<li>${need}</li>`)}</ul>
      <h3>What it did</h3>
      <p>${row.pickings === 0 ? 'Nothing was picked from it yet.' : `${gramsAtLeast(row.grams, row.unweighed)} in ${count(row.pickings, 'picking')}.`}
        ${seasons.length ? html`By year: ${seasons.map((year) => `${year} ${yearSum(picked, year)}`).join('; ')}.` : nothing}</p>
      <ul class="slip-list slip-record">${view.entries.map((e) => line(e)).filter((words) => words !== '').map((words) => html`<li>${words}</li>`)}</ul>
      <h3>Mind</h3>
      <ul class="slip-list">
        <li>Cook its mushrooms right through: raw or half-cooked shiitake can give a rash.</li>
        <li>Eat only what was planted and you are sure of: deadly look-alikes grow on wood. When in doubt, leave it and ask someone licensed to tell.</li>
        <li>A wet log is heavy: lift with two, from the knees.</li>
        <li>Nothing on it that a label does not allow on food. Follow the local rules, also on moving firewood.</li>
      </ul>
      <p class="soft">Written on ${dayName(today)} from its record.</p>
    </article>`;
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

export const on = {
  /** @param {LogView} view */
  back: (view) => back(link('log', { log: view.row.id })),
  print: () => window.print(),
};
