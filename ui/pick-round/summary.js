// What a picking round brought in: the sums, the baskets that wait for their weight, and each log.
// It never rounds. Invariant: what is not weighed is said so, not counted as nothing.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { tagLabel } from '../components/log-line.js';
import { count, dayName, grams, gramsAtLeast } from '../lib/format.js';
import { basketLogs } from '../lib/words-rounds.js';
import { doneWords } from './parts.js';

/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{leave: () => void, open: (log: string) => void, weigh: (basket: string) => void}} on
 */
export function summary({ shown }, on) {
  const { round } = shown;
  const done = shown.stops.filter((stop) => stop.done);
  const sum = (/** @type {'pickings' | 'grams' | 'caps' | 'unweighed' | 'in_basket'} */ field) => done.reduce((all, stop) => all + (stop.done?.[field] ?? 0), 0);
  const picked = done.filter((stop) => stop.done && stop.done.pickings > 0).length;
  return html`<div class="round-summary">
    <h1 tabindex="-1">Picking round of ${dayName(round.day)}</h1>
    <dl class="sums">
      <div><dt>Weighed</dt><dd id="sum-grams">${sum('pickings') === sum('unweighed') + sum('in_basket') ? 'nothing yet' : gramsAtLeast(sum('grams'), sum('unweighed') + sum('in_basket'))}</dd></div>
      <div><dt>Logs picked</dt><dd id="sum-picked">${picked}</dd></div>
      <div><dt>Caps counted</dt><dd id="sum-caps">${sum('caps')}</dd></div>
      <div><dt>Logs seen</dt><dd id="sum-done">${round.done} of ${round.logs}</dd></div>
      ${round.left ? html`<div><dt>Not reached</dt><dd>${round.left}</dd></div>` : nothing}
    </dl>
    ${shown.baskets.map((basket) => html`<section class="sheet group" data-basket=${basket.id}>
      <h2>${basket.grams === null ? 'Basket to weigh' : `Basket, ${grams(basket.grams)}`}</h2>
      <p>${count(basket.pickings.length, 'picking')}, ${basketLogs(basket)}.</p>
      ${basket.grams === null ? html`<button type="button" class="key key-wide key-main" data-weigh=${basket.id} @click=${() => on.weigh(basket.id)}>Weigh it</button>` : nothing}
    </section>`)}
    <h2>Log by log</h2>
    ${done.length === 0 ? html`<p>Nothing was entered.</p>` : html`<ul class="plain findings">${done.map(({ log, done: what }) => html`<li>
      <button type="button" class="key key-wide" @click=${() => on.open(log.id)}>${tagLabel(log.tag)} <span>${what ? doneWords(what, round.day) : ''}</span></button>
    </li>`)}</ul>`}
    <button type="button" class="key key-main key-wide" id="round-done" @click=${on.leave}>To the chores</button>
  </div>`;
}
