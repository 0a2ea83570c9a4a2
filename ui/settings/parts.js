// The groups of the settings.
// They never call the backend. Invariant: what a setting changes is said beside it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, text } from '../components/field.js';
import { icon } from '../components/icons.js';
import { bytes, count } from '../lib/format.js';
import { wrongAt } from '../flow/form.js';

/** @import {JobView, Light} from '../api/types.js' */
/** @import {Typed, View} from './screen.js' */

/**
 * @param {View} view
 * @param {{typed: (view: View, field: keyof Typed, value: string) => void, save: (event: Event, view: View) => void}} on
 */
export function place(view, on) {
  const { typed, wrong } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {string} */ value) => on.typed(view, field, value);
  return html`<section class="sheet group" aria-labelledby="place-title">
    <h2 id="place-title">Where the yard lies</h2>
    <p class="soft">Only to work out when it gets dark. It stays in your register.</p>
    <form novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${text({ name: 'place', label: 'Name of the place', value: typed.place, wrong: wrongAt(wrong, 'place'), onInput: set('place') })}
      <div class="two">
        ${text({ name: 'lat', label: 'Latitude', unit: 'degrees', value: typed.lat, hint: 'South is minus, or S.', wrong: wrongAt(wrong, 'lat'), onInput: set('lat') })}
        ${text({ name: 'lon', label: 'Longitude', unit: 'degrees', value: typed.lon, hint: 'West is minus, or W.', wrong: wrongAt(wrong, 'lon'), onInput: set('lon') })}
      </div>
      ${text({ name: 'night_after_min', label: 'Night round', unit: 'minutes after dark', value: typed.after, keys: 'numeric', hint: 'A couple of hours is common practice.', wrong: wrongAt(wrong, 'night_after_min'), onInput: set('after') })}
      <p class="acts"><button type="submit" class="button button-main" id="save" ?disabled=${view.busy}>Save the place</button></p>
    </form>
  </section>`;
}

/**
 * @param {View} view
 * @param {{light: (view: View, light: Light) => void}} on
 */
export function lights(view, on) {
  /** @type {{value: Light, label: string, hint: string}[]} */
  const options = [
    { value: 'system', label: 'as the system', hint: 'pale or dark' },
    { value: 'day', label: 'Day', hint: 'for the sun' },
    { value: 'lamp', label: 'Lamp', hint: 'red, for the night' },
  ];
  return html`<section class="sheet group" aria-label="Light">
    ${chips({ name: 'light', legend: 'Light on this device', options, value: view.light, onPick: (light) => on.light(view, light) })}
    <p class="hint">A night round turns Lamp on by itself.</p>
  </section>`;
}

/**
 * @param {View} view
 * @param {{move: (view: View, at: number, by: number) => void}} on
 */
export function spots(view, on) {
  return html`<section class="sheet group" aria-labelledby="spots-title">
    <h2 id="spots-title">Spots in walking order</h2>
    ${view.spots.length === 0 ? html`<p class="soft">No spots yet. Name one when you add or edit a log.</p>` : html`<ol class="plain spots">${view.spots.map((spot, i) => html`<li data-spot=${spot.name}>
      <span>${i + 1}. ${spot.name} <span class="soft">${count(spot.logs, 'log')}</span></span>
      <button type="button" class="button" data-move="up" ?disabled=${i === 0} aria-label=${`Move ${spot.name} up`} @click=${() => on.move(view, i, -1)}>${icon('up')}</button>
      <button type="button" class="button" data-move="down" ?disabled=${i === view.spots.length - 1} aria-label=${`Move ${spot.name} down`} @click=${() => on.move(view, i, 1)}>${icon('down')}</button>
    </li>`)}</ol>`}
  </section>`;
}

/**
 * @param {View} view
 * @param {{check: (view: View) => void, stop: (view: View) => void}} on
 */
export function register(view, on) {
  const { settings, job } = view;
  const running = job?.state === 'running';
  return html`<section class="sheet group" aria-labelledby="register-title">
    <h2 id="register-title">The register</h2>
    <dl class="facts">
      <div><dt>Logs</dt><dd>${settings.logs}</dd></div>
      <div><dt>Entries</dt><dd>${settings.entries}</dd></div>
      <div><dt>Photos</dt><dd>${settings.photos}, ${bytes(settings.photo_bytes)}</dd></div>
      <div><dt>Register</dt><dd>${bytes(settings.register_bytes)}</dd></div>
      <div><dt>Shadeyard</dt><dd>${settings.version}</dd></div>
    </dl>
    <p class="acts">
      <button type="button" class="button" id="check" ?disabled=${running} @click=${() => on.check(view)}>Check the register</button>
      ${running ? html`<button type="button" class="button button-quiet" id="check-stop" @click=${() => on.stop(view)}>Stop</button>` : nothing}
    </p>
    ${running && job ? html`<progress aria-label="Checking the register" max=${Math.max(1, job.total)} value=${job.done}></progress>` : nothing}
    <p id="check-said" role="status">${job ? jobWords(job) : ''}</p>
    ${job?.found.length ? html`<ul>${job.found.map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
  </section>`;
}

/** @param {JobView} job */
function jobWords(job) {
  switch (job.state) {
    case 'running': return job.total ? `Checking, ${job.done} of ${job.total}…` : 'Checking…';
    case 'cancelled': return 'The check was stopped. Nothing was changed.';
    case 'failed': return 'The check could not be finished. Nothing was changed. Try once more.';
    case 'done': return job.found.length ? `Found ${count(job.found.length, 'thing')} to look at. Nothing was changed; copy the yard folder somewhere safe.` : `Checked all ${job.total || ''} parts: the register is sound.`.replace('  ', ' ');
  }
}
