// The yard: the register as a list, searched by tag.
// It never changes a log. Invariant: what is searched for stands in the address, so back returns to the same list.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call } from '../api/call.js';
import { text } from '../components/field.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { logLine } from '../components/log-line.js';
import { count } from '../lib/format.js';
import { readdress, redraw, tellTrouble } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';

/** @import {YardView} from '../api/types.js' */
/** @typedef {YardView & {search: string, asked: number}} View */

export const topics = LOGS;
export const frame = /** @type {const} */ ('tab');
export const title = () => 'Yard';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ search = '' }) {
  return { ...(await call('yard_list', { search })), search, asked: 0 };
}

/** @param {View} view */
export function render(view) {
  return html`${head('Yard', { end: html`<a class="button" id="add-log" href=${link('log-new')}>${icon('plus')} Add a log</a>` })}
    <div class="search" role="search">
      ${text({ name: 'search', label: 'Find a log by its tag', value: view.search, keys: 'search', onInput: (value) => on.search(view, value) })}
    </div>
    <p class="soft" id="yard-count" role="status">${found(view)}</p>
    <ul class="plain yard-list">${repeat(view.logs, (row) => row.id, (row) => html`<li>${logLine(row, view.today, link('log', { log: row.id }))}</li>`)}</ul>
    ${view.search.trim() === '' ? html`<p class="acts"><a class="button button-quiet" id="bring-in" href=${link('bring-in')}>Bring in a spreadsheet</a></p>` : nothing}`;
}

/** @param {View} view */
function found(view) {
  if (view.total === 0) return 'No logs yet. Add your first one.';
  if (view.search.trim() === '') return `${count(view.total, 'log')} in the register.`;
  if (view.logs.length === 0) return `No log carries a tag like “${view.search.trim()}”.`;
  return `${count(view.logs.length, 'log')} of ${view.total}.`;
}

export const on = {
  /**
   * @param {View} view
   * @param {string} search
   */
  async search(view, search) {
    if (search === view.search) return;
    view.search = search;
    readdress(view, link('yard', search ? { search } : {}));
    const mine = ++view.asked;
    try {
      const list = await call('yard_list', { search });
      if (mine !== view.asked) return;
      Object.assign(view, list);
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },
};
