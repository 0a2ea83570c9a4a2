// The woods: what each is worth to a mushroom and on whose word, how heavy and wet it is, how long a log of it bears.
// It never changes the table; the grower's own woods have a form. Invariant: no rating without its mark and source.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call } from '../api/call.js';
import { text } from '../components/field.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { capital, count } from '../lib/format.js';
import { back, redraw } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { rating } from '../lib/words-life.js';
import { facts } from './parts.js';

/** @import {WoodsView} from '../api/types.js' */
/** @typedef {WoodsView & {search: string}} View */

export const topics = ['wood', 'log'];
export const title = () => 'Woods';

/** @returns {Promise<View>} */
export async function load() {
  return { ...(await call('woods_show', {})), search: '' };
}

/** @param {View} view */
export function render(view) {
  const sought = view.search.trim().toLowerCase();
  const woods = view.woods.filter((w) => `${w.name} ${w.scientific}`.toLowerCase().includes(sought));
  return html`${head('Woods', { back: { label: 'Back', onBack: on.back }, end: html`<a class="button" id="add-wood" href=${link('wood', { wood: 'new' })}>${icon('plus')} Own wood</a>` })}
    <p>From 0, unsuitable, to 4, best. Ratings are guidance drawn from trials and practice, not law.</p>
    ${text({ name: 'search', label: 'Find a wood', value: view.search, keys: 'search', onInput: (value) => on.search(view, value) })}
    <p class="soft" role="status" id="wood-count">${woods.length === view.woods.length ? count(woods.length, 'wood') : `${count(woods.length, 'wood')} of ${view.woods.length}`}.</p>
    <ul class="plain woods">${repeat(woods, (w) => w.id, (w) => html`<li data-wood=${w.id}>
      <details class="where"><summary><span class="wood-head"><strong>${capital(w.name)}</strong>${w.own ? html` <span class="mark">yours</span>` : nothing}${w.logs ? html` <span class="soft">${count(w.logs, 'log')}</span>` : nothing}
        <span class="soft">${w.conifer ? 'conifer: none of the yard’s mushrooms lives on it' : html`shiitake ${rating(w.shiitake)} · Hericium ${rating(w.hericium)}`}</span></span></summary>
        ${facts(w)}
        ${w.own ? html`<p class="acts"><a class="button" href=${link('wood', { wood: w.id })}>${icon('edit')} Change ${w.name}</a></p>` : nothing}
      </details></li>`)}</ul>`;
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {View} view
   * @param {string} search
   */
  search(view, search) {
    view.search = search;
    redraw();
  },
};
