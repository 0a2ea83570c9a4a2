// One spot: what it is like, its logs, and what can be done for all of them at once.
// It never writes but to take the spot out. Invariant: a spot where logs lie says what to do first.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { logLine } from '../components/log-line.js';
import { back, finish, tellTrouble, write } from '../flow/onshow.js';
import { capital, count } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { GROUND, RAIN, SHADE, WATER } from '../lib/words-yard.js';

/** @import {SpotView} from '../api/types.js' */
/** @typedef {SpotView & {shown: number, busy: boolean, request: string}} View */

const PAGE = 60;

export const topics = LOGS;
export const title = (/** @type {View} */ view) => view.fields.name || 'A spot';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ spot }) {
  return { ...(await call('spot_show', { spot })), shown: PAGE, busy: false, request: newRequest() };
}

/** @param {View} view */
export function render(view) {
  const here = { spot: view.id };
  return html`${head(title(view), { back: { label: 'Back', onBack: on.back } })}
    ${like(view)}
    <nav class="log-acts" aria-label="What to do with all its logs">
      ${view.logs.length ? html`<a class="button button-main" id="tend" href=${link('tend', here)}>${icon('hand')} Tend them all</a>
      <a class="button button-main" id="move" href=${link('move', here)}>${icon('carry')} Move logs</a>` : nothing}
      <a class="button" id="edit" href=${link('spot-edit', here)}>${icon('edit')} Edit the spot</a>
      ${view.logs.length ? nothing : html`<button type="button" class="button" id="take-out" ?disabled=${view.busy} @click=${() => on.takeOut(view)}>${icon('end')} Take it out</button>`}
    </nav>
    <section aria-labelledby="logs-title">
      <h2 id="logs-title">${view.logs.length ? count(view.logs.length, 'log') : 'No logs here'}</h2>
      ${view.logs.length ? nothing : html`<p class="soft">Move logs here, or choose this spot when you add one.</p>`}
      <ul class="plain yard-list">${repeat(view.logs.slice(0, view.shown), (row) => row.id, (row) => html`<li>${logLine({ ...row, spot: null }, view.today, link('log', { log: row.id }))}</li>`)}</ul>
      ${view.logs.length > view.shown ? html`<p class="acts"><a class="button button-wide" href=${link('yard', { spot: view.id, limit: String(view.logs.length) })}>Show all ${view.logs.length}</a></p>` : nothing}
      ${view.ended ? html`<p class="soft">${count(view.ended, 'ended log')} lay here last.</p>` : nothing}
    </section>`;
}

/** @param {View} view */
function like({ fields, place, places }) {
  const yesNo = (/** @type {boolean | null} */ value, /** @type {string} */ yes, /** @type {string} */ no) => (value === null ? 'not said' : value ? yes : no);
  /** @type {[string, string][]} */
  const facts = [
    ['Shade', fields.shade ? SHADE[fields.shade] : 'not said'],
    ['In winter', yesNo(fields.winter_sun, 'bare of shade when the leaves are down', 'shaded all year')],
    ['Rain', fields.rain ? RAIN[fields.rain] : 'not said'],
    ['Watered by', fields.water ? WATER[fields.water] : 'not said'],
    ['Ground', fields.ground ? GROUND[fields.ground] : 'not said'],
    ['Frost', yesNo(fields.heated, 'kept from frost', 'open to frost')],
    ['Walk', place ? `${place} of ${places}` : 'not in the walk'],
  ];
  return html`<section class="sheet" aria-label="What it is like"><dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${capital(value)}</dd></div>`)}</dl>
    ${fields.note ? html`<p class="note">${fields.note}</p>` : nothing}</section>`;
}

export const on = {
  back: () => back(link('spots')),

  /** @param {View} view */
  async takeOut(view) {
    if (view.busy) return;
    view.busy = true;
    try {
      await write('spot_out', { spot: view.id, request: view.request });
      finish(link('spots'));
    } catch (error) {
      view.busy = false;
      tellTrouble(error);
    }
  },
};
