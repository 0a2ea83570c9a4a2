// The pieces of a look: which log, the photos, the stages as pictures.
// They never keep a photo. Invariant: the camera can be opened with one tap and by keyboard.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips } from '../components/field.js';
import { icon } from '../components/icons.js';
import { tagLabel, tagTwice, whatItIs } from '../components/log-line.js';
import { photo } from '../components/photo.js';
import { stageDrawing } from '../components/stages.js';
import { capital, dayName } from '../lib/format.js';
import { wrongAt } from '../flow/form.js';
import { link } from '../lib/router.js';
import { STAGE, STAGE_HINT } from '../lib/words.js';

/** @import {LogRow, Stage} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @param {{form: {row: LogRow, today: string}, restored: boolean}} view */
export function which({ form, restored }) {
  const { row, today } = form;
  const last = row.last_seen ? `Last look: ${STAGE[row.last_seen]}, ${row.last_seen_day ? dayName(row.last_seen_day, today) : ''}.` : 'No look so far.';
  return html`<p class="which">${tagLabel(row.tag)} <span>${whatItIs(row)}${row.spot ? `, ${row.spot}` : ''}. ${last}</span></p>
    ${tagTwice(row)}
    ${restored ? html`<p class="mind" role="status">What you were entering is back.</p>` : nothing}`;
}

/**
 * @template {{typed: {photos: string[]}, keeping: boolean, photoWrong: string, othersTag?: import('../api/types.js').Offered | null}} V
 * @param {V} view
 * @param {{photo: (event: Event, view: V) => void, opening: (view: V) => void, leaveOut: (view: V, hash: string) => void}} on
 */
export function photos(view, on) {
  const { typed } = view;
  return html`<section class="sheet group" aria-labelledby="photo-title">
    <h2 id="photo-title">Photo</h2>
    ${typed.photos.length ? html`<ul class="plain kept-photos">${typed.photos.map((hash, i) => html`<li data-photo=${hash}>
      ${photo(hash, 'small', `Photo ${i + 1}, kept for this look`)}
      <button type="button" class="button button-quiet" @click=${() => on.leaveOut(view, hash)}>Leave out<span class="unseen"> photo ${i + 1}</span></button>
    </li>`)}</ul>` : nothing}
    <label class="button button-wide photo-button" for="photo">${icon('camera')} <span>${view.keeping ? 'Keeping the photo…' : typed.photos.length ? 'Take another photo' : 'Take a photo'}</span>
      <input id="photo" name="photo" type="file" accept="image/*" capture="environment" ?disabled=${view.keeping}
        aria-describedby="photo-wrong" @click=${() => on.opening(view)} @change=${(/** @type {Event} */ e) => on.photo(e, view)} />
    </label>
    ${view.othersTag ? html`<p class="mind" role="status" id="others-tag">The tag in this photo is that of log ${view.othersTag.tag}. <a href=${link('look', { log: view.othersTag.log })}>Look at log ${view.othersTag.tag}</a> instead, or leave it as it is.</p>` : nothing}
    <p id="photo-wrong" class=${view.photoWrong ? 'wrong' : 'unseen'} role="alert">${view.photoWrong}</p>
  </section>`;
}

/**
 * @param {View} view
 * @param {{seen: (view: View, stage: Stage) => void}} on
 */
export function seen(view, on) {
  const options = view.form.stages.map((stage) => ({
    value: stage,
    label: html`${stageDrawing(stage)}<span data-stage=${stage}>${capital(STAGE[stage])}</span>`,
    hint: STAGE_HINT[stage],
  }));
  return html`<section class="sheet group" aria-label="What was seen">
    ${chips({ name: 'seen', legend: 'What did you see?', options, value: view.typed.seen, wrong: wrongAt(view.wrong, 'seen'), look: 'chips-stages', onPick: (stage) => on.seen(view, stage) })}
  </section>`;
}
