// A log's photos on its page: the strip by date, the way to then-and-now, and how fast its caps grow.
// It never loads an original. Invariant: the oldest photo is first, the newest last and in sight.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { photoStrip } from '../components/photo.js';
import { byDate } from '../lib/photo-days.js';
import { count, dayName } from '../lib/format.js';
import { link } from '../lib/router.js';
import { growthWords } from '../lib/words-photos.js';

/** @import {View} from './screen.js' */

/** @param {View} view */
export function photos(view) {
  const all = byDate(view.entries);
  if (all.length === 0 && !view.growth) return nothing;
  const log = view.row.id;
  return html`<section aria-labelledby="photos-title">
    <h2 id="photos-title">Photos</h2>
    ${view.growth ? html`<p class="mind" id="growth">Caps grow ${growthWords(view.growth)}</p>` : nothing}
    <ol class="plain date-strip wide" tabindex="0" aria-label=${`${count(all.length, 'photo')}, the oldest first`}>${all.map(({ photo, day, words }) => html`<li>
      ${photoStrip([photo], `log ${view.row.tag}, ${dayName(day)}${words ? `, ${words}` : ''}`, (hash) => link('photo', { log, hash }))}
      <span class="soft">${dayName(day, view.today)}</span></li>`)}</ol>
    ${all.length > 1 ? html`<p class="acts"><a class="button" id="then" href=${link('then', { log })}>Then and now</a></p>` : nothing}
  </section>`;
}
