// Then and now: two photos of one log side by side.
// It never changes a photo. Invariant: the older one stands first.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { select } from '../components/field.js';
import { head } from '../components/frame.js';
import { photo } from '../components/photo.js';
import { back, readdress, redraw } from '../flow/onshow.js';
import { count, dayName, daysAgo } from '../lib/format.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { isShown } from '../lib/words-photos.js';
import { byDate } from '../lib/photo-days.js';

/** @import {LogView} from '../api/types.js' */
/** @import {Dated} from '../lib/photo-days.js' */
/** @typedef {LogView & {photos: Dated[], one: string, other: string}} View */

export const topics = LOGS;
export const title = (/** @type {View} */ view) => `Then and now, log ${view.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, one = '', other = '' }) {
  const shown = await call('log_show', { log });
  const photos = byDate(shown.entries).filter(({ photo: row }) => isShown(row));
  const has = (/** @type {string} */ hash) => photos.some(({ photo: row }) => row.hash === hash);
  return { ...shown, photos, one: has(one) ? one : photos[0]?.photo.hash ?? '', other: has(other) ? other : photos.at(-1)?.photo.hash ?? '' };
}

/** @param {View} view */
export function render(view) {
  const bar = head(`Then and now, log ${view.row.tag}`, { back: { label: 'Back', onBack: () => on.back(view) } });
  if (view.photos.length < 2) return html`${bar}<p>${view.photos.length === 0 ? 'No photo of this log can be shown yet.' : 'There is one photo so far.'} Take another in a day or a year, and see both here.</p>`;
  const at = (/** @type {string} */ hash) => view.photos.find(({ photo: row }) => row.hash === hash) ?? view.photos[0];
  const [then, now] = [at(view.one), at(view.other)];
  const days = Math.abs(daysAgo(then.day, now.day));
  return html`${bar}
    <p id="between">${days === 0 ? 'Both of one day.' : `${count(days, 'day')} between them.`}</p>
    <div class="then-pair">${side('one', 'Then', view, then)}${side('other', 'Now', view, now)}</div>`;
}

/**
 * @param {'one' | 'other'} name
 * @param {string} label
 * @param {View} view
 * @param {Dated} shown
 */
function side(name, label, view, shown) {
  const options = view.photos.map(({ photo: row, day }, i) => ({ value: row.hash, label: `${dayName(day, view.today)} · ${i + 1}` }));
  return html`<figure class="then-side">
    <a class="then-photo" href=${link('photo', { log: view.row.id, hash: shown.photo.hash })}>${photo(shown.photo.hash, 'large', `${label}: log ${view.row.tag}, ${dayName(shown.day, view.today)}`)}</a>
    <figcaption>${dayName(shown.day, view.today)}${shown.words ? html`<span class="soft">${shown.words}</span>` : nothing}</figcaption>
    ${select({ name, label, value: shown.photo.hash, options, onInput: (hash) => on.choose(view, name, hash) })}
  </figure>`;
}

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.row.id })),

  /**
   * @param {View} view
   * @param {'one' | 'other'} name
   * @param {string} hash
   */
  choose(view, name, hash) {
    view[name] = hash;
    readdress(view, link('then', { log: view.row.id, one: view.one, other: view.other }));
    redraw();
  },
};
