// The pieces of the photos' screen: camera and files, how far it is, each photo with its log, the loose ones.
// They never keep or tie a photo. Invariant: every photo that was not kept says why.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { select } from '../components/field.js';
import { icon } from '../components/icons.js';
import { photo } from '../components/photo.js';
import { count, dayName, listed } from '../lib/format.js';
import { awayWords, isShown, unshownWords } from '../lib/words-photos.js';

/** @import {Coming, View} from './screen.js' */

/** @typedef {typeof import('./screen.js').on} On */

/**
 * @param {View} view
 * @param {On} on
 */
export function choose(view, on) {
  return html`<section class="sheet group" aria-labelledby="choose-title">
    <h2 id="choose-title">New photos</h2>
    <label class="button button-wide photo-button" for="snap">${icon('camera')} <span>Photograph a log</span>
      <input id="snap" type="file" accept="image/*" capture="environment" ?disabled=${view.busy} @change=${(/** @type {Event} */ e) => on.files(e, view)} /></label>
    <label class="button button-wide photo-button" for="many"><span>Choose from files, one or many</span>
      <input id="many" type="file" accept="image/jpeg,image/png,image/webp,image/heic" multiple ?disabled=${view.busy} @change=${(/** @type {Event} */ e) => on.files(e, view)} /></label>
    <p class="soft">With the tag in the photo its log is found by itself. A photo that is here already is not kept twice, so a long row can be stopped and begun again.</p>
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function progress(view, on) {
  if (view.files === 0) return html`<p id="photos-said" role="status"></p>`;
  const wrong = view.coming.filter((p) => p.wrong).length;
  const words = view.busy ? `Keeping ${Math.min(view.at + 1, view.files)} of ${view.files}…` : view.at < view.files ? `Stopped after ${view.at} of ${view.files}. What was kept stays. Choose the same files to go on.` : `${count(view.files, 'photo')} looked at${wrong ? `, ${wrong} not kept` : ', all kept'}.`;
  return html`<div class="work">
    ${view.busy ? html`<progress aria-label="Keeping photos" max=${view.files} value=${view.at}></progress>` : nothing}
    <p id="photos-said" role="status">${words}</p>
    ${view.busy ? html`<button type="button" class="button" id="photos-stop" @click=${() => on.stop(view)}>Stop</button>` : nothing}
  </div>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function putAll(view, on) {
  const waiting = view.coming.filter(({ hash, put }) => hash && !put);
  if (view.busy || waiting.length === 0) return nothing;
  const tied = waiting.filter(({ to }) => to).length;
  const words = tied === waiting.length ? 'Put each to its log' : tied === 0 ? 'Put them among the loose photos' : `Put ${tied} to their logs, ${waiting.length - tied} among the loose`;
  return html`<p><button type="button" class="button button-main button-wide" id="put-all" @click=${() => on.putAll(view)}>${words}</button></p>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function cards(view, on) {
  const shown = view.coming.filter(({ put }) => !put).slice(-60);
  if (shown.length === 0) return nothing;
  return html`<ul class="plain coming">${shown.map((one, i) => html`<li class="sheet coming-card" data-coming=${one.hash || one.name}>${one.wrong ? refusedCard(one) : card(one, i, view, on)}</li>`)}</ul>`;
}

/** @param {Coming} one */
function refusedCard(one) {
  return html`<p><strong>${one.name}</strong></p><p class="wrong">${one.wrong}</p>`;
}

/**
 * @param {Coming} one
 * @param {number} i
 * @param {View} view
 * @param {On} on
 */
function card(one, i, view, on) {
  const logs = one.found?.logs ?? [];
  const last = one.found?.last ?? null;
  const found = logs.length ? `The tag of log ${listed(logs.map(({ tag }) => tag))} is in it.` : one.found?.strangers ? 'A tag is in it, but of no log in this yard.' : 'No tag was found in it.';
  const offers = [...logs, ...(last && !logs.some(({ log }) => log === last.log) ? [last] : [])];
  const others = view.logs.filter(({ log }) => !offers.some((o) => o.log === log));
  const options = [...logs.map(({ log, tag }) => ({ value: log, label: `Log ${tag}, its tag` })), ...(last && !logs.some(({ log }) => log === last.log) ? [{ value: last.log, label: `Log ${last.tag}, the last one` }] : []),
    { value: '', label: 'No log yet: loose photo' }, ...others.map(({ log, tag }) => ({ value: log, label: `Log ${tag}` }))];
  return html`${one.unshown ? html`<p class="mind">${unshownWords(one.unshown)}</p>` : photo(one.hash, 'small', `Photo ${i + 1}, ${one.name}`)}
    <p class="coming-found">${found}</p>
    ${logs.map(({ log, tag }) => html`<button type="button" class="button button-main button-wide" data-look=${log} @click=${() => on.look(view, one, log)}>Look at log ${tag}</button>`)}
    ${logs.length === 0 && last ? html`<button type="button" class="button" data-look=${last.log} @click=${() => on.look(view, one, last.log)}>Look at log ${last.tag}, the last one</button>` : nothing}
    ${select({ name: `to-${one.hash.slice(0, 12)}`, label: 'Belongs to', value: one.to, options, onInput: (to) => on.to(view, one, to) })}`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function loose(view, on) {
  const options = [{ value: '', label: 'Choose a log' }, ...view.logs.map(({ log, tag }) => ({ value: log, label: `Log ${tag}` }))];
  return html`<section aria-labelledby="loose-title">
    <h2 id="loose-title">Loose photos</h2>
    ${view.loose.length === 0 ? html`<p class="soft">None. Photos that belong to no log yet lie here.</p>` : html`<ul class="plain coming">${view.loose.map(({ photo: row, day }) => html`<li class="sheet coming-card" data-loose=${row.hash}>
      ${isShown(row) ? photo(row.hash, 'small', `Loose photo of ${dayName(day, view.today)}`) : html`<p class="soft">${awayWords(row)}</p>`}
      <p class="soft">${dayName(day, view.today)}</p>
      ${select({ name: `tie-${row.hash.slice(0, 12)}`, label: 'Belongs to', value: view.tie[row.entry] ?? '', options, onInput: (log) => on.chooseTie(view, row.entry, log) })}
      <button type="button" class="button" ?disabled=${!view.tie[row.entry]} data-tie=${row.hash} @click=${() => on.tie(view, row.entry)}>Put it there</button>
    </li>`)}</ul>`}
  </section>`;
}
