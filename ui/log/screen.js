// One log's page: what it is, what is next, what can be done, and its record, newest first.
// It never writes; each act has its own screen. Invariant: the record shows every entry that is not taken back.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { back, tellTrouble, write } from '../flow/onshow.js';
import { device } from '../flow/standing.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { expectations } from './life.js';
import { flushes, mark } from './flushes.js';
import { others } from './others.js';
import { acts, details, record, summary } from './parts.js';
import { photos } from './photos.js';

/** @import {FlushesView, Losers, LogView} from '../api/types.js' */
/** @typedef {LogView & {fruit: FlushesView, losers: Losers[], mine: string}} View */

export const topics = LOGS;
export const title = (/** @type {View} */ view) => `Log ${view.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  const [shown, { fields }, fruit] = await Promise.all([call('log_show', { log }), call('losers_show', { log }), call('flushes_show', { log })]);
  return { ...shown, fruit, losers: fields, mine: device() };
}

/** @param {View} view */
export function render(view) {
  return html`${head(`Log ${view.row.tag}`, { back: { label: 'Back', onBack: on.back } })}
    ${view.same_tag.length ? html`<p class="mind">${view.same_tag.length === 1 ? html`<a href=${link('log', { log: view.same_tag[0] })}>Another log</a> carries` : html`<a href=${link('yard', { search: view.row.tag })}>${view.same_tag.length} other logs</a> carry`} the tag ${view.row.tag} too. Check which one you stand before.</p>` : nothing}
    ${summary(view)}
    ${acts(view, () => void on.unend(view))}
    ${expectations(view)}
    ${photos(view)}
    ${details(view)}
    ${others(view)}
    ${flushes(view, on)}
    ${record(view)}`;
}

export const on = {
  back: () => back(link('yard')),

  /** @param {View} view */
  async unend(view) {
    try {
      await write('log_unend', { log: view.row.id, request: newRequest() });
    } catch (error) {
      tellTrouble(error);
    }
  },
  mark,
};
