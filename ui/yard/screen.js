// The yard: every log by its tag, found by tag or by words in its notes, narrowed down by what logs are.
// It never writes. Invariant: a slow answer never shows under a newer search.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call } from '../api/call.js';
import { text } from '../components/field.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { logLine } from '../components/log-line.js';
import { readdress, redraw, tellTrouble } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { found, narrow, others, place, ways } from './parts.js';

/** @import {YardView} from '../api/types.js' */
/** @typedef {'wood' | 'mushroom' | 'strain' | 'spot' | 'state'} By what the list is narrowed by */
/** @typedef {YardView & {search: string, by: Partial<Record<By, string>>, limit: number, open: boolean, asked: number}} View */

/** Logs that come at once; more on demand. */
const PAGE = 60;
const BY = /** @type {const} */ (['wood', 'mushroom', 'strain', 'spot', 'state']);

export const topics = LOGS;
export const frame = /** @type {const} */ ('tab');
export const title = () => 'Yard';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load(params) {
  const { search = '', limit = String(PAGE) } = params;
  /** @type {Partial<Record<By, string>>} */
  const by = Object.fromEntries(BY.filter((name) => params[name] !== undefined).map((name) => [name, params[name]]));
  const view = { search, by, limit: Math.max(PAGE, Number(limit) || PAGE), open: Object.keys(by).length > 0, asked: 0 };
  return { ...(await call('yard_list', asRequest(view))), ...view };
}

/** @param {Pick<View, 'search' | 'by' | 'limit'>} view */
function asRequest({ search, by, limit }) {
  return /** @type {import('../api/types.js').YardList} */ ({ search, ...by, limit });
}

/** @param {View} view */
export function render(view) {
  const places = new Map(view.places.map((one) => [one.log, one]));
  const left = view.found - view.logs.length;
  return html`${head('Yard', { end: html`<a class="button" id="add-log" href=${link('log-new')}>${icon('plus')} Add a log</a>` })}
    <div class="search" role="search">
      ${text({ name: 'search', label: 'Find by tag, or by words in notes', value: view.search, keys: 'search', onInput: (value) => on.search(view, value) })}
    </div>
    ${others(view)}
    ${view.total > 0 ? narrow(view, on) : nothing}
    <p class="soft" id="yard-count" role="status">${found(view)}</p>
    <ul class="plain yard-list">${repeat(view.logs, (row) => row.id, (row) => html`<li>${logLine(row, view.today, link('log', { log: row.id }), place(places.get(row.id), view.today))}</li>`)}</ul>
    ${left > 0 ? html`<p class="acts"><button type="button" class="button button-wide" id="more" @click=${() => on.more(view)}>Show ${Math.min(left, PAGE)} more of ${left}</button></p>` : nothing}
    ${ways(view)}`;
}

export const on = {
  /**
   * @param {View} view
   * @param {string} search
   */
  search(view, search) {
    if (search === view.search) return undefined;
    view.search = search;
    view.limit = PAGE;
    return ask(view);
  },

  /**
   * @param {View} view
   * @param {By} by
   * @param {string | null} value null: all
   */
  narrow(view, by, value) {
    if (value === null) delete view.by[by];
    else view.by[by] = value;
    view.limit = PAGE;
    return ask(view);
  },

  /** @param {View} view */
  all(view) {
    view.by = {};
    return ask(view);
  },

  /** @param {View} view */
  more(view) {
    view.limit += PAGE;
    return ask(view);
  },

  /**
   * @param {View} view
   * @param {boolean} open
   */
  open(view, open) {
    view.open = open;
  },
};

/** @param {View} view */
async function ask(view) {
  const values = { ...view.by, ...(view.search ? { search: view.search } : {}), ...(view.limit > PAGE ? { limit: String(view.limit) } : {}) };
  readdress(view, link('yard', values));
  const mine = ++view.asked;
  try {
    const list = await call('yard_list', asRequest(view));
    if (mine !== view.asked) return;
    Object.assign(view, list);
    redraw();
  } catch (error) {
    tellTrouble(error);
  }
}
