// What pinned this week: one photo a log, as on a photographer's contact sheet.
// It never says what to pick. Invariant: a log without a photo is on the sheet too.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { photo } from '../components/photo.js';
import { back } from '../flow/onshow.js';
import { count, dayName } from '../lib/format.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { STAGE } from '../lib/words.js';
import { isShown } from '../lib/words-photos.js';

/** @import {PinnedView} from '../api/types.js' */

export const topics = LOGS;
export const title = () => 'Pinned this week';

/** @returns {Promise<PinnedView>} */
export async function load() {
  return call('pinned_week', {});
}

/** @param {PinnedView} view */
export function render(view) {
  return html`${head('Pinned this week', { back: { label: 'Back', onBack: on.back } })}
    <p class="soft" id="pinned-count">${view.pinned.length === 0 ? 'No pins were seen in the last seven days.' : `${count(view.pinned.length, 'log')} since ${dayName(view.from, view.today)}.`}</p>
    ${view.pinned.length === 0 ? html`<p><a class="button" href=${link('photos')}>Photograph a log</a></p>` : nothing}
    <ul class="plain pinned">${view.pinned.map((one) => html`<li><a class="pinned-line" href=${link('log', { log: one.log })} data-log=${one.log}>
      ${one.photo && isShown(one.photo) ? photo(one.photo.hash, 'small', `Log ${one.tag}`) : html`<span class="photo-away pinned-none">No photo</span>`}
      <span><strong>Log ${one.tag}</strong> <span class="soft">${one.seen ? STAGE[one.seen] : ''} ${dayName(one.day, view.today)}</span></span></a></li>`)}</ul>`;
}

export const on = { back: () => back(link('yard')) };
