// What slugs and others cost: damage in groups, slugs over time, early against late picking, and how forecasts came out.
// It never works out a share. Invariant: few figures are said to be few, before the figure.

import { html, nothing, svg } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { back } from '../flow/onshow.js';
import { count, dayName, figure, rough } from '../lib/format.js';
import { link } from '../lib/router.js';
import { DID, SIGHTED } from '../lib/words-rounds.js';

/** @import {CostsView, Did, LossGroup} from '../api/types.js' */

export const topics = ['*'];
export const title = () => 'What it costs';

/** @returns {Promise<CostsView>} */
export const load = () => call('costs_show', {});

/** @type {Record<string, string>} */
const HOURS = { before: 'before dark', '0-1': 'first hour', '1-2': 'second hour', '2-3': 'third hour', 3: 'later' };
/** @type {Record<string, string>} */
const PINS = { '0-2': '0 to 2 days', '3-5': '3 to 5 days', '6-9': '6 to 9 days', more: '10 days or more' };

/** @param {CostsView} view */
export function render(view) {
  return html`${head('What it costs', { back: { label: 'Back', onBack: on.back } })}
    ${view.evenings.length === 0 ? html`<section class="sheet"><p>No night round was walked yet. Each one adds to what can be said here.</p></section>` : html`
      ${slugs(view)}
      ${table('By spot', view.by_spot, (key) => key || 'no spot set')}
      ${table('By season', view.by_season, (key) => rough(key, key))}
      ${table('By hours after dark', view.by_hours, (key) => HOURS[key] ?? key)}
      ${table('By days since pins', view.by_pins, (key) => PINS[key] ?? key)}
      ${table('By what was done before', view.by_control, (key) => (key ? DID[/** @type {Did} */ (key)] ?? key : 'nothing noted'), 'What was last done at the spot in the two weeks before. Spots where something was done are those that needed it: this shows no cause.')}`}
    ${early(view)}
    ${forecasts(view)}
    ${sightings(view)}`;
}

/** @param {CostsView} view */
function slugs({ evenings, today }) {
  const shown = evenings.slice(-24);
  const most = Math.max(1, ...shown.map(({ slugs: n, stops }) => n / stops));
  return html`<section class="sheet" aria-labelledby="slugs-title">
    <h2 id="slugs-title">Slugs by evening</h2>
    <p>${count(evenings.length, 'evening')} so far${evenings.length < 10 ? ': few, so take it lightly' : ''}. Bars: slugs a log.</p>
    <div class="bars" role="img" aria-label=${`Slugs a log on the last ${count(shown.length, 'evening')}: ${shown.map(({ day, slugs: n, stops }) => `${dayName(day, today)} ${figure(n / stops)}`).join(', ')}`}>
      <svg class="bar-plot" viewBox=${`0 0 ${shown.length * 10} 60`} preserveAspectRatio="none" aria-hidden="true">${shown.map(({ slugs: n, stops }, i) => bar(i, (n / stops / most) * 56))}</svg>
    </div>
    <p class="soft">${shown.length ? `${dayName(shown[0].day, today)} to ${dayName(shown[shown.length - 1].day, today)}; at most ${figure(most)} a log.` : ''}</p>
  </section>`;
}

/** @param {number} i @param {number} high */
function bar(i, high) {
  return svg`<rect class="bar" x=${i * 10 + 1} y=${58 - high} width="8" height=${Math.max(1, high)} />`;
}

/**
 * @param {string} title_
 * @param {LossGroup[]} groups
 * @param {(key: string) => string} name
 * @param {string} [mind]
 */
function table(title_, groups, name, mind) {
  if (groups.length === 0) return nothing;
  return html`<section aria-label=${title_}>
    <h2>${title_}</h2>
    ${mind ? html`<p class="soft">${mind}</p>` : nothing}
    <div class="wide" tabindex="0" role="group" aria-label=${`${title_}, table`}><table class="table">
      <thead><tr><th scope="col">Where</th><th scope="col">Damaged</th><th scope="col">Slugs</th></tr></thead>
      <tbody>${groups.map((group) => html`<tr><th scope="row">${name(group.key)}</th><td>${share(group)}</td><td>${group.slugs}</td></tr>`)}</tbody>
    </table></div>
  </section>`;
}

/** @param {LossGroup} group */
function share({ stops, damaged, few }) {
  if (stops === 0) return html`not judged`;
  if (few) return html`${damaged} of ${stops}<small>too few to tell</small>`;
  return html`${figure((100 * damaged) / stops)} %<small>${damaged} of ${stops} stops</small>`;
}

/** @param {CostsView} view */
function early({ early: e }) {
  if (e.early + e.late === 0) return nothing;
  const side = (/** @type {number} */ n, /** @type {number | null} */ pct, /** @type {number | null} */ g) => (n === 0 ? 'none' : `${figure(pct ?? 0)} % damaged${g === null ? '' : `, ${figure(g)} g a picking`} (${count(n, 'picking')})`);
  return html`<section class="sheet" id="early" aria-labelledby="early-title">
    <h2 id="early-title">Did early picking pay?</h2>
    <p>${e.few ? 'Too few pickings to tell.' : early_answer(e)}</p>
    <dl class="facts"><div><dt>Up to cupped</dt><dd>${side(e.early, e.early_pct, e.early_g)}</dd></div><div><dt>Later</dt><dd>${side(e.late, e.late_pct, e.late_g)}</dd></div></dl>
    <p class="soft">Only pickings whose damage was judged. What is picked early weighs less; weigh one against the other.</p>
  </section>`;
}

/** @param {CostsView['early']} e */
function early_answer(e) {
  const saved = (e.late_pct ?? 0) - (e.early_pct ?? 0);
  return saved > 0 ? `Caps picked up to cupped were less damaged, by ${figure(saved)} points in a hundred.` : 'Caps picked early were not less damaged in this yard.';
}

/** @param {CostsView} view */
function forecasts({ forecasts: f }) {
  if (f.n + f.open === 0) return nothing;
  return html`<section class="sheet" id="forecasts" aria-labelledby="forecasts-title">
    <h2 id="forecasts-title">How forecasts came out</h2>
    ${f.n === 0 ? html`<p>None has come due yet; ${count(f.open, 'forecast')} open.</p>` : html`<p>${f.hits} of ${f.n} within the days that were shown${f.few ? ': too few to tell' : ` (${figure(f.hit_pct ?? 0)} %; 80 % is aimed at)`}. The middle missed by ${figure(f.miss_days ?? 0)} days in the mean. ${f.open ? `${count(f.open, 'forecast')} open.` : ''}</p>`}
  </section>`;
}

/** @param {CostsView} view */
function sightings({ sightings: all, today }) {
  if (all.length === 0) return nothing;
  return html`<section aria-labelledby="sightings-title"><h2 id="sightings-title">Sightings</h2>
    <ul class="plain">${all.map((one) => html`<li class="sighting-line">${dayName(one.day, today)}: ${SIGHTED[one.what]}${one.n === null ? '' : ` (${one.n})`}${one.tag ? html`, <a href=${link('log', { log: one.log ?? '' })}>log ${one.tag}</a>` : one.spot ? `, ${one.spot}` : ''}</li>`)}</ul></section>`;
}

export const on = { back: () => back(link('review')) };
