// The logs that could be moved, to tick; and what the lists of the season lean on.
// They never call the backend. Invariant: each log says where it is, and on a list of the season why it is there.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { select } from '../components/field.js';
import { wrongAt } from '../flow/form.js';
import { capital, count } from '../lib/format.js';
import { MUSHROOM, STATE } from '../lib/words.js';
import { REASON } from '../lib/words-yard.js';
import { reason } from './screen.js';

/** @import {MoveLog} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** Lines a screen can hold. */
const MOST = 200;

/** @param {View} view */
export function basis({ form, why, log }) {
  const listed = form.logs.filter((one) => reason(one, why));
  const ground = form.basis === 'forecast' ? 'by the coldest night to come' : 'by the month, as no forecast is known';
  const now = form.frost ? `Frost is to be reckoned with, ${ground}.` : `No frost is reckoned with, ${ground}.`;
  const list = log ? '' : why === 'bring_in'
    ? (form.frost ? `${count(listed.length, 'log')} should come in.` : 'Nothing has to come in.')
    : (form.frost ? 'Nothing should go out yet.' : `${count(listed.length, 'log')} can go out. Choose a cloudy, mild day.`);
  return html`<p id="season">${now} ${list}</p><p class="hint">Common practice, no source.</p>`;
}

/**
 * @param {View} view
 * @param {{from: (view: View, spot: string) => unknown, tick: (view: View, logs: readonly string[], ticked: boolean) => void}} on
 */
export function logList(view, on) {
  const { form, why, wrong } = view;
  const logs = [...form.logs].sort((a, b) => Number(reason(b, why) !== null) - Number(reason(a, why) !== null));
  const all = logs.map(({ id }) => id);
  const ticked = all.filter((id) => view.ticked.has(id)).length;
  return html`<section class="sheet group" aria-labelledby="logs-title">
    <h2 id="logs-title">Which logs</h2>
    ${select({ name: 'from', label: 'Lying at', value: view.from, options: [{ value: '', label: 'any spot' }, ...form.spots.map(({ id, name, logs: n }) => ({ value: id, label: `${name} (${n})` }))], onInput: (spot) => on.from(view, spot) })}
    <p class="acts"><button type="button" class="button" id="tick-all" @click=${() => on.tick(view, all, ticked < all.length)}>${ticked < all.length ? `Tick all ${all.length}` : 'Tick none'}</button> <span role="status" class="tick-count">${ticked} ticked</span></p>
    ${wrongAt(wrong, 'logs') ? html`<p class="wrong" role="alert">${wrongAt(wrong, 'logs')}</p>` : nothing}
    <ul class="plain ticks" data-field="logs">${repeat(logs.slice(0, MOST), ({ id }) => id, (log) => line(log, view, on))}</ul>
    ${logs.length > MOST ? html`<p class="soft">The first ${MOST} of ${logs.length} are shown: choose a spot for the rest.</p>` : nothing}
    ${logs.length === 0 ? html`<p class="soft">No live log lies there.</p>` : nothing}
  </section>`;
}

/**
 * @param {MoveLog} log
 * @param {View} view
 * @param {{tick: (view: View, logs: readonly string[], ticked: boolean) => void}} on
 */
function line(log, view, on) {
  const why = reason(log, view.why);
  return html`<li><label class="tick" data-log=${log.id}>
    <input type="checkbox" .checked=${live(view.ticked.has(log.id))} @change=${(/** @type {Event} */ e) => on.tick(view, [log.id], /** @type {HTMLInputElement} */ (e.target).checked)} />
    <span><strong>${log.tag}</strong> ${capital(log.wood_name ?? 'wood not known')} · ${MUSHROOM[log.mushroom]}, ${STATE[log.state]}${view.from ? '' : html` <span class="soft">· ${log.spot ?? 'no spot'}</span>`}
    ${why ? html`<span class="tick-why">${capital(REASON[why])}</span>` : nothing}</span>
  </label></li>`;
}
