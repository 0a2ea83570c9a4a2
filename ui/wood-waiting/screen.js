// Wood waiting to be laid: how long each pile has lain and how long it can still lie; then the batches that are laid.
// It never changes a log. Invariant: what has to be laid first stands first, and stale wood says so.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { whereFrom } from '../components/where-from.js';
import { capital, count, dayName, figure, rough } from '../lib/format.js';
import { back } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { daysLeft, since } from '../lib/words-life.js';

/** @import {WaitingRow, WaitingView} from '../api/types.js' */

export const topics = ['batch', 'log', 'wood', 'entry', 'ending', 'picking', 'look'];
export const title = () => 'Wood waiting';

/** @returns {Promise<WaitingView>} */
export const load = () => call('wood_waiting', {});

/** @param {WaitingView} view */
export function render(view) {
  return html`${head('Wood waiting', { back: { label: 'Back', onBack: on.back }, end: html`<a class="button" id="add-batch" href=${link('batch', { batch: 'new' })}>${icon('plus')} Add wood</a>` })}
    ${view.waiting.length === 0 ? html`<p id="none-waiting">No wood waits to be laid. When trees are felled, add the wood here: the days it can lie are counted from that day.</p>` : nothing}
    ${view.waiting.map((row) => pile(row, view.today))}
    ${view.laid.length === 0 ? nothing : html`<section aria-labelledby="laid-title">
      <h2 id="laid-title">Batches already laid</h2>
      <ul class="plain">${view.laid.map((b) => html`<li><a class="way-line" href=${link('batch', { batch: b.id })}><span><strong>${b.fields.name}</strong>
        <span class="soft">${capital(b.wood_name ?? 'wood not known')}, felled ${rough(b.fields.felled, 'day not known')} · ${count(b.logs, 'log')}${b.fields.doubtful ? ' · strain doubtful' : ''}</span></span>${icon('more')}</a></li>`)}</ul>
    </section>`}`;
}

/**
 * @param {WaitingRow} row
 * @param {string} today
 */
function pile(row, today) {
  const stale = row.fresh.length > 0 && row.fresh.every((f) => f.stale);
  const [first, ...more] = row.logs;
  return html`<section class="sheet pile" data-batch=${row.batch ?? ''}>
    <h2>${row.name ?? capital(row.wood ?? 'wood not known')}${row.doubtful ? html` <span class="mark">strain doubtful</span>` : nothing}</h2>
    <p>${row.name ? html`${capital(row.wood ?? 'wood not known')}. ` : nothing}Felled ${rough(row.felled, 'on a day not known')}${row.days ? html`: <strong>${since(row.days)}</strong>` : nothing}.</p>
    ${stale ? html`<p class="trouble">Stale: wild fungi have likely got ahead. Lay it only with a note that it was late.</p>` : nothing}
    ${row.fresh.length === 0 ? html`<p class="mind">Nobody knows when it was felled, so the days left cannot be said.</p>` : html`<ul class="plain fresh">${row.fresh.map((f) => html`<li>
      <p class=${f.stale ? 'soft' : ''}>${f.totem ? 'Hericium totems' : 'Drilled logs, any mushroom'}: <strong>${daysLeft(f)}</strong>${f.stale ? nothing : html`, by ${dayName(f.by, today)}`}</p>
      ${whereFrom(f.from)}</li>`)}</ul>`}
    ${row.moisture_pct === null ? nothing : html`<p>Sample disc: ${figure(row.moisture_pct)} % water of the fresh weight.</p>`}
    <p>${row.logs.length === 0 ? 'No logs of it are in the register yet.' : html`${count(row.logs.length, 'log')}: <a href=${link('log', { log: first[0] })}>${first[1]}</a>${more.map(([id, tag]) => html`, <a href=${link('log', { log: id })}>${tag}</a>`)}.`}</p>
    ${row.batch ? html`<p class="acts"><a class="button" href=${link('log-new', { batch: row.batch })}>${icon('plus')} Add a log of it</a>
      <a class="button" href=${link('logs-new', { batch: row.batch })}>${icon('plus')} Add many of it</a>
      <a class="button" href=${link('batch', { batch: row.batch })}>${icon('edit')} Change</a></p>` : nothing}
  </section>`;
}

export const on = {
  back: () => back(link('yard')),
};
