// The card, the keypad and the end of the night round.
// They never write. Invariant: everything the wet hand needs lies in the lower half, 64 px or more, 8 px apart.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { endgrain } from '../components/endgrain.js';
import { chips } from '../components/field.js';
import { icon } from '../components/icons.js';
import { whatItIs } from '../components/log-line.js';
import { count } from '../lib/format.js';
import { DAMAGE, capsAt, checked } from '../lib/words.js';
import { found } from './walk.js';

/** @import {Damage, Stop} from '../api/types.js' */
/** @import {Card} from './card.js' */
/** @import {View} from './screen.js' */
/** @typedef {typeof import('./screen.js').on} On */

/**
 * @param {View} view
 * @param {Card} card
 * @param {On} on
 */
export function card(view, card, on) {
  const { stop, at } = card;
  const today = view.shown.round.day;
  return html`<div class="card">
    ${top(view, on, `${at + 1} of ${view.shown.stops.length}`)}
    <section class="card-log" aria-label="The log">
      <div class="card-words">
        <h1 tabindex="-1"><span class="unseen">Log </span><span id="card-tag" data-log=${stop.log.id}>${stop.log.tag}</span></h1>
        <p class="card-what">${whatItIs(stop.log)}</p>
        <p class="card-spot">${stop.log.spot ?? 'no spot set'}</p>
        ${risk(stop)}
        ${stop.check ? html`<p class="card-check" id="card-check">Tonight: ${checked(stop.check)}</p>` : nothing}
      </div>
      ${endgrain(stop.log, today, { spoken: true })}
    </section>
    ${lower(view, card, on)}
  </div>`;
}

/**
 * @param {View} view
 * @param {On} on
 * @param {string} position
 */
function top(view, on, position) {
  const last = view.acts.at(-1);
  return html`<div class="card-top">
    <button type="button" class="key" id="put-down" @click=${on.putDown}>Put down</button>
    <p class="card-position" id="position">${position}</p>
    <button type="button" class="key" id="find" @click=${() => on.find(view, '')}>${icon('find')} Find</button>
    <button type="button" class="key" id="previous" ?disabled=${view.busy || view.card?.at === 0} @click=${() => on.previous(view)}>${icon('back')} Back</button>
    <button type="button" class="key card-undo" id="undo" ?disabled=${view.busy || !last} @click=${() => on.undo(view)}>${icon('undo')} Undo ${last ? last.words : ''}</button>
  </div>`;
}

/** @param {Stop} stop */
function risk({ risk, log }) {
  if (risk === 'caps') return html`<p class="card-risk">At risk: ${log.last_seen ? capsAt(log.last_seen) : 'caps'} out</p>`;
  if (risk === 'damage') return html`<p class="card-risk">At risk: damage before</p>`;
  return nothing;
}

/**
 * @param {View} view
 * @param {Card} card
 * @param {On} on
 */
function lower(view, card, on) {
  const damages = /** @type {{value: Damage, label: string}[]} */ (Object.entries(DAMAGE).map(([value, label]) => ({ value, label })));
  const spot = view.shown.spots.find(({ spot_id }) => spot_id === card.stop.log.spot_id);
  const wait = view.busy ? 'true' : 'false';
  return html`<section class="card-lower" aria-label="Slugs and damage">
    <div class="tally">
      <button type="button" class="key key-big" id="slugs-minus" aria-label="One slug less" @click=${() => on.count(view, -1)}>${icon('minus')}</button>
      <div class="tally-field">
        <input id="slugs" name="slugs" type="text" inputmode="numeric" autocomplete="off" aria-describedby="slugs-wrong" aria-invalid=${card.wrong() ? 'true' : 'false'}
          .value=${live(card.text)} @input=${(/** @type {Event} */ e) => on.typed(view, /** @type {HTMLInputElement} */ (e.target).value)}
          @change=${(/** @type {Event} */ e) => on.typed(view, /** @type {HTMLInputElement} */ (e.target).value)} />
        <label for="slugs">slugs</label>
      </div>
      <button type="button" class="key key-big" id="slugs-plus" aria-label="One slug more" @click=${() => on.count(view, 1)}>${icon('plus')}</button>
    </div>
    <p id="slugs-wrong" class=${card.wrong() ? 'wrong' : 'unseen'} role="alert">${card.wrong()}</p>
    ${chips({ name: 'damage', legend: 'Damage', options: damages, value: card.damage, look: 'chips-damage', onPick: (damage) => on.damage(view, damage) })}
    <div class="card-acts">
      <button type="button" class="key" id="skip" aria-disabled=${wait} @click=${() => on.skip(view)}>${icon('skip')} Skip</button>
      <button type="button" class="key key-main" id="tick" aria-disabled=${wait} @click=${() => on.tick(view)}>${icon('tick')} Tick</button>
    </div>
    ${spot && spot.left > 0 ? html`<button type="button" class="key key-wide" id="spot-clean" aria-disabled=${wait} @click=${() => on.spotClean(view)}>Rest of ${spot.spot ?? 'these'} is clean · ${spot.left}</button>` : nothing}
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function finder(view, on) {
  const digits = view.digits ?? '';
  const hits = found(view.shown.stops, digits);
  const press = (/** @type {string} */ digit) => on.find(view, digits + digit);
  return html`<div class="finder">
    <h1 tabindex="-1">Find a log by its digits</h1>
    <p class="finder-digits" id="digits" role="status">${digits || html`<span class="soft">type the tag</span>`}${digits && hits.length === 0 ? html`<small>No log of this round has these digits.</small>` : nothing}</p>
    <ul class="plain finder-hits">${hits.map(({ stop, at }) => html`<li><button type="button" class="key key-wide" data-reach=${stop.log.tag} @click=${() => on.reach(view, at)}>
      <strong>${stop.log.tag}</strong> ${whatItIs(stop.log)}${stop.log.spot ? `, ${stop.log.spot}` : ''}${stop.check ? `, ${checked(stop.check)}` : ''}
    </button></li>`)}</ul>
    <div class="keypad">
      ${['1', '2', '3', '4', '5', '6', '7', '8', '9'].map((digit) => html`<button type="button" class="key" data-digit=${digit} @click=${() => press(digit)}>${digit}</button>`)}
      <button type="button" class="key" id="erase" aria-label="Erase the last digit" @click=${() => on.find(view, digits.slice(0, -1))}>${icon('erase')}</button>
      <button type="button" class="key" data-digit="0" @click=${() => press('0')}>0</button>
      <button type="button" class="key" id="find-close" @click=${() => on.find(view, null)}>Close</button>
    </div>
  </div>`;
}

/**
 * No log is left: the round can be ended.
 * @param {View} view
 * @param {On} on
 */
export function finished(view, on) {
  const { round } = view.shown;
  return html`<div class="card">
    ${top(view, on, 'the end')}
    <section class="card-log card-done">
      <div class="card-words">
        <h1 tabindex="-1">${round.skipped ? 'No log left' : `All ${round.logs} logs seen`}</h1>
        <p>${count(round.done, 'log')} seen${round.skipped ? `, ${round.skipped} skipped` : ''}, ${count(round.slugs, 'slug')} found.</p>
      </div>
    </section>
    <section class="card-lower" aria-label="End of the round">
      <button type="button" class="key key-main key-wide" id="end-round" ?disabled=${view.busy} @click=${() => on.end(view)}>${icon('tick')} End the round</button>
    </section>
  </div>`;
}
