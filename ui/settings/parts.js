// The groups of the settings.
// They never call the backend. Invariant: what a setting changes is said beside it.

import { amber, setAmber } from '../lib/light.js';
import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, select, text } from '../components/field.js';
import { icon } from '../components/icons.js';
import { bytes, count } from '../lib/format.js';
import { MONTHS, yearDayName } from '../lib/rough.js';
import { link } from '../lib/router.js';
import { wrongAt } from '../flow/form.js';

/** @import {Forcing, Light, Units} from '../api/types.js' */
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
 * @param {{ways: (view: View, change: Partial<View['ways']>) => void, firstMonth: (view: View, month: string) => void, first: (event: Event, view: View) => void, gap: (event: Event, view: View) => void}} on
 */
export function ways(view, on) {
  const { ways: set, settings, wrong } = view;
  /** @type {{value: Units, label: string, hint: string}[]} */
  const units = [{ value: 'metric', label: 'metric', hint: 'g, cm, °C' }, { value: 'us', label: 'US', hint: 'oz, in, °F' }];
  /** @type {{value: Forcing, label: string, hint: string}[]} */
  const forcing = [
    { value: 'careful', label: 'a full year', hint: 'published: University of Kentucky FOR-85' },
    { value: 'quick', label: 'wide-range after 8 months', hint: 'common practice says 6 to 8; the others a full year' },
  ];
  return html`<section class="sheet group" aria-labelledby="ways-title">
    <h2 id="ways-title">Units and ways</h2>
    ${chips({ name: 'units', legend: 'Shown in', options: units, value: set.units, onPick: (value) => on.ways(view, { units: value }) })}
    <p class="hint">The register keeps grams, millimetres and °C whatever is shown.</p>
    ${chips({ name: 'forcing', legend: 'Before its first soak a log is', options: forcing, value: set.forcing, look: 'chips-wide', onPick: (value) => on.ways(view, { forcing: value }) })}
    <form novalidate @submit=${(/** @type {Event} */ e) => on.first(e, view)}>
      ${select({ name: 'season_first', label: 'A season begins in', value: view.first.month, hint: `Usual on your side of the equator: ${yearDayName(settings.usual_first)}.`, options: [{ value: '', label: 'the usual month' }, ...MONTHS.map((label, n) => ({ value: String(n + 1), label }))], onInput: (month) => on.firstMonth(view, month) })}
      ${view.first.month ? text({ name: 'season_first_day', label: 'on day', value: view.first.day, keys: 'numeric', wrong: wrongAt(wrong, 'season_first'), onInput: (day) => { view.first.day = day; } }) : nothing}
      <p class="acts"><button type="submit" class="button" id="save-first" ?disabled=${view.busy}>Save the first day</button></p>
    </form>
    <form novalidate @submit=${(/** @type {Event} */ e) => on.gap(e, view)}>
      ${text({ name: 'flush_gap_days', label: 'A new flush begins after', unit: 'days without picking', value: view.gap, keys: 'numeric', hint: `Pickings of one log fewer days apart, with no soak between, are one flush. Empty: ${settings.usual_gap_days}; common practice speaks of about three weeks.`, wrong: wrongAt(wrong, 'flush_gap_days'), onInput: (value) => { view.gap = value; } })}
      <p class="acts"><button type="submit" class="button" id="save-gap" ?disabled=${view.busy}>Save the gap</button></p>
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
    <label class="check-line"><input type="checkbox" id="amber" .checked=${amber()} @change=${(/** @type {Event} */ e) => setAmber(/** @type {HTMLInputElement} */ (e.target).checked)} /> <span>Lamp in amber, for eyes that do not see red</span></label>
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

/** @param {View} view */
export function register({ settings }) {
  return html`<section class="sheet group" aria-labelledby="register-title">
    <h2 id="register-title">The register</h2>
    <dl class="facts">
      <div><dt>Logs</dt><dd>${settings.logs}</dd></div>
      <div><dt>Entries</dt><dd>${settings.entries}</dd></div>
      <div><dt>Photos</dt><dd>${settings.photos}, ${bytes(settings.photo_bytes)}</dd></div>
      <div><dt>Register</dt><dd>${bytes(settings.register_bytes)}</dd></div>
      <div><dt>Shadeyard</dt><dd>${settings.version}</dd></div>
    </dl>
    <p class="acts"><a class="button button-wide" id="care" href=${link('care')}>Care: health, backups, sharing</a></p>
  </section>`;
}
