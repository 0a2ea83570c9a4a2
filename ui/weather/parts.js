// The pieces of the weather's screen.
// They never call the backend. Invariant: what a file says is shown before anything of it is taken.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, text } from '../components/field.js';
import { roughDate } from '../components/rough-date.js';
import { wrongAt } from '../flow/form.js';
import { air, airNumber, airUnit, count, dayName, rain, rainNumber, rainUnit, wind, windUnit } from '../lib/format.js';

/** @import {BadLine, FileUnits, WeatherDay} from '../api/types.js' */
/** @import {Typed, View} from './screen.js' */

/** @type {{value: Typed['when'], label: string}[]} */
const DAYS = [{ value: 'today', label: 'today' }, { value: 'yesterday', label: 'yesterday' }, { value: 'tomorrow', label: 'tomorrow' }, { value: 'other', label: 'another day' }];

/**
 * @param {View} view
 * @param {{typed: (view: View) => void, save: (event: Event, view: View) => void}} on
 */
export function typeIn(view, on) {
  const { typed, wrong } = view;
  const set = (/** @type {'min' | 'max' | 'rain' | 'wind'} */ field) => (/** @type {string} */ value) => {
    typed[field] = value;
    on.typed(view);
  };
  return html`<section class="sheet group" aria-labelledby="type-title">
    <h2 id="type-title">Type in a day</h2>
    <p class="hint">A low for tonight brings the frost warning to Chores. Nothing is fetched: write what your thermometer, gauge or forecast says.</p>
    <form novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      ${chips({ name: 'when', legend: 'Day', options: DAYS, value: typed.when, wrong: typed.when === 'other' ? '' : wrongAt(wrong, 'day'), onPick: (value) => { typed.when = value; on.typed(view); } })}
      ${typed.when === 'other' ? roughDate({ name: 'day', legend: 'Which day', parts: typed.day, kinds: ['day'], wrong: wrongAt(wrong, 'day'), onChange: () => on.typed(view) }) : nothing}
      <div class="two">
        ${text({ name: 'min_dc', label: 'Lowest', unit: airUnit(), value: typed.min, wrong: wrongAt(wrong, 'min_dc'), onInput: set('min') })}
        ${text({ name: 'max_dc', label: 'Highest', unit: airUnit(), value: typed.max, wrong: wrongAt(wrong, 'max_dc'), onInput: set('max') })}
        ${text({ name: 'rain_tenths', label: 'Rain', unit: rainUnit(), value: typed.rain, keys: 'decimal', hint: '0 is a dry day; empty is not known.', wrong: wrongAt(wrong, 'rain_tenths'), onInput: set('rain') })}
        ${text({ name: 'wind_tenths', label: 'Wind', unit: windUnit(), value: typed.wind, keys: 'decimal', wrong: wrongAt(wrong, 'wind_tenths'), onInput: set('wind') })}
      </div>
      <p class="acts"><button type="submit" class="button button-main" id="save" ?disabled=${view.busy}>Save the day</button></p>
    </form>
  </section>`;
}

/** @type {{value: FileUnits, label: string, hint: string}[]} */
const UNITS = [
  { value: 'tenths', label: 'tenths', hint: 'of °C and mm, as the archive keeps them' },
  { value: 'metric', label: '°C and mm', hint: 'whole degrees with decimals' },
  { value: 'us', label: '°F and inches', hint: 'standard units' },
];

/** @type {Record<BadLine, string>} */
const BAD = {
  cut_short: 'is cut short', no_such_day: 'names a day that no calendar has', not_a_number: 'holds something that is no number',
  other_station: 'belongs to another station', says_otherwise: 'says otherwise than a line before it',
};

/**
 * @param {View} view
 * @param {{file: (event: Event, view: View) => void, units: (view: View, units: FileUnits) => void, take: (view: View) => void, over: (view: View) => void}} on
 */
export function fromFile(view, on) {
  const { tried, wrong } = view;
  return html`<section class="sheet group" aria-labelledby="file-title">
    <h2 id="file-title">From a station’s file</h2>
    <p class="hint">GHCN-Daily, which you carry here yourself: a <strong>.dly</strong> file or a station’s CSV, in either layout.</p>
    <label class="button button-wide file-button" for="weather-file"><span>${tried ? 'Choose another file' : 'Choose a station’s file'}</span>
      <input type="file" id="weather-file" name="file" accept=".dly,.csv,.txt,text/plain,text/csv" @change=${(/** @type {Event} */ e) => on.file(e, view)} /></label>
    ${wrongAt(wrong, 'file') ? html`<p class="wrong" role="alert">${wrongAt(wrong, 'file')}</p>` : nothing}
    ${tried === null ? nothing : html`<div id="tried">
      <p><strong>Station ${tried.station}</strong>, ${count(tried.days, 'day')}${tried.first && tried.last ? `; ${count(tried.take, 'day')} from ${dayName(tried.first)} to ${dayName(tried.last)} would be taken` : '; none of them in the last three years'}.</p>
      ${tried.ask_units ? html`<p class="trouble" id="ask-units">These figures cannot be in ${UNITS.find(({ value }) => value === tried.units)?.label}${tried.impossible.length ? html`: look at ${dayName(tried.impossible[0])}` : nothing}. In which units is the file?</p>` : nothing}
      ${tried.ask_units || view.units !== null ? chips({ name: 'units', legend: 'The file’s units', options: UNITS, value: tried.units, look: 'chips-wide', onPick: (units) => on.units(view, units) }) : nothing}
      <ul>
        ${tried.same ? html`<li>${count(tried.same, 'day')} stand already, alike.</li>` : nothing}
        ${tried.replaced ? html`<li>${count(tried.replaced, 'day')} read from a file before will be replaced.</li>` : nothing}
        ${tried.flagged ? html`<li>${count(tried.flagged, 'value')} failed the source’s own check and are left out.</li>` : nothing}
        ${tried.twice ? html`<li>${count(tried.twice, 'value')} stand twice and alike; each counts once.</li>` : nothing}
        ${tried.left_out ? html`<li id="left-out">${count(tried.left_out, 'line')} cannot be read: ${tried.lines.slice(0, 5).map(({ line, why, what }) => html`<span>line ${line} ${BAD[why]} (${what}). </span>`)}</li>` : nothing}
      </ul>
      ${tried.typed ? html`<label class="tick-line"><input type="checkbox" id="over-typed" .checked=${view.over} @change=${() => on.over(view)} /><span class="tick-words">${count(tried.typed, 'day')} typed by hand say otherwise. Write over them too; else they stay.</span></label>` : nothing}
      ${tried.sample.length ? table(tried.sample, view.shown.today) : nothing}
      <p class="acts"><button type="button" class="button button-main button-wide" id="take" ?disabled=${view.busy || tried.ask_units || tried.take === 0} @click=${() => on.take(view)}>Take ${count(tried.take, 'day')} in</button></p>
    </div>`}
  </section>`;
}

/** @param {View} view */
export function days({ shown }) {
  return html`<section aria-labelledby="days-title">
    <h2 id="days-title">Days</h2>
    ${shown.days.length === 0 ? html`<p class="soft" id="no-days">${shown.total === 0 ? 'No weather yet. Type in a day, or take a station’s file in.' : `None of the last 60 days; the register holds ${count(shown.total, 'day')}.`}</p>` : html`
    <p>${shown.week_tenths === null ? 'Fewer than five of the last seven days are known, so no week’s rain is given.' : `${rain(shown.week_tenths)} of rain in the open in the last seven days; ${rain(250)} a week suffices (published: University of Kentucky FOR-82).`}${shown.low_dc === null ? '' : ` Tonight’s low: ${air(shown.low_dc)}.`}</p>
    ${table(shown.days, shown.today)}`}
  </section>`;
}

/**
 * @param {WeatherDay[]} rows
 * @param {string} today
 */
function table(rows, today) {
  return html`<div class="wide" tabindex="0" role="group" aria-label="Days, as a table"><table class="table days-table"><thead><tr><th scope="col">Day</th><th scope="col">Low ${airUnit()}</th><th scope="col">High ${airUnit()}</th><th scope="col">Rain ${rainUnit()}</th></tr></thead>
    <tbody>${rows.map((d) => html`<tr><th scope="row">${dayName(d.day, today)}</th><td>${d.min_dc === null ? '–' : airNumber(d.min_dc)}</td><td>${d.max_dc === null ? '–' : airNumber(d.max_dc)}</td><td>${d.rain_tenths === null ? '–' : rainNumber(d.rain_tenths)}${d.wind_tenths === null ? nothing : html`<small>wind ${wind(d.wind_tenths)}</small>`}</td></tr>`)}</tbody></table></div>`;
}
