// The card, the keypad and the end of the night round.
// They never write. Invariant: everything the wet hand needs lies in the lower half, 64 px or more, 8 px apart.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { endgrain } from '../components/endgrain.js';
import { chips } from '../components/field.js';
import { icon } from '../components/icons.js';
import { whatItIs } from '../components/log-line.js';
import { count } from '../lib/format.js';
import { onceADay } from '../lib/once.js';
import { DAMAGE, capsAt, checked } from '../lib/words.js';
import { AT_RISK, CAUTION, DID, HID, OTHER, WHEN } from '../lib/words-rounds.js';
import { found } from './walk.js';

/** @import {Damage, LogRow, Stop} from '../api/types.js' */
/** @import {Card, More} from './card.js' */
/** @import {View} from './screen.js' */
/** @typedef {typeof import('./screen.js').on} On */

/**
 * @param {View} view
 * @param {Card} card
 * @param {On} on
 */
export function card(view, card, on) {
  const { stop, at } = card;
  return html`<div class="card">
    ${top(view, on, `${at + 1} of ${view.shown.stops.length}`)}
    <section class="card-log" aria-label="The log">
      <div class="card-words">
        <h1 tabindex="-1"><span class="unseen">Log </span><span id="card-tag" data-log=${stop.log.id}>${stop.log.tag}</span></h1>
        <p class="card-what">${whatItIs(stop.log)}</p>
        <p class="card-spot">${stop.log.spot ?? 'no spot set'}</p>
        ${stop.log.tag_twice ? html`<p class="card-risk" id="tag-twice">Two logs carry this tag: see that it is this one.</p>` : nothing}
        ${risk(stop)}
        ${stop.check ? html`<p class="card-check" id="card-check">${view.shown.afterwards ? 'That night' : 'Tonight'}: ${checked(stop.check)}</p>` : nothing}
      </div>
      ${endgrain(stop.log, { spoken: true })}
    </section>
    ${view.shown.afterwards ? chips({ name: 'when', legend: 'Seen', options: WHEN, value: view.when, look: 'chips-damage', onPick: (when) => on.when(view, when) }) : nothing}
    ${lower(view, card, on)}
  </div>`;
}

/**
 * @param {View} view
 * @param {On} on
 * @param {string} position
 */
function top(view, on, position) {
  return html`<div class="card-top">
    <button type="button" class="key" id="put-down" @click=${on.putDown}>Put down</button>
    <p class="card-position" id="position">${position}</p>
    <button type="button" class="key" id="previous" ?disabled=${view.busy || view.card?.at === 0} @click=${() => on.previous(view)}>${icon('back')} Back</button>
  </div>
  ${digitStrip((digit) => on.find(view, digit))}`;
}

/**
 * The digits in reach: the first tap to any log of the round, the second is its tag.
 * @param {(digit: string) => void} press
 */
export function digitStrip(press) {
  return html`<div class="digit-strip" role="group" aria-label="To a log by its digits">
    ${['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'].map((digit) => html`<button type="button" class="key" data-digit=${digit} aria-label=${`Logs with ${digit}`} @click=${() => press(digit)}>${digit}</button>`)}
  </div>`;
}

/**
 * The undo of the round, large and under the thumb.
 * @param {{busy: boolean, acts: {words: string}[]}} view
 * @param {() => void} undo
 */
export function undoKey(view, undo) {
  const last = view.acts.at(-1);
  return html`<button type="button" class="key card-undo" id="undo" ?disabled=${view.busy || !last} @click=${undo}>${icon('undo')} <span>Undo<small>${last ? last.words : ''}</small></span></button>`;
}

/** @param {Stop} stop */
function risk({ risk, log }) {
  if (risk === 'caps') return html`<p class="card-risk">At risk: ${log.last_seen ? capsAt(log.last_seen) : 'caps'} out</p>`;
  return risk ? html`<p class="card-risk">At risk: ${AT_RISK[risk]}</p>` : nothing;
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
  const { child } = view.shown.round;
  return html`<section class="card-lower" aria-label="Slugs and damage">
    <div class="tally">
      <button type="button" class="key key-big" id="slugs-minus" aria-label="One slug less" @click=${() => on.count(view, -1)}>${icon('minus')}</button>
      <div class="tally-field">
        <input id="slugs" name="slugs" type="text" inputmode="numeric" autocomplete="off" aria-describedby="slugs-wrong" aria-invalid=${card.wrong() ? 'true' : 'false'}
          .value=${live(card.text)} @input=${(/** @type {Event} */ e) => on.typed(view, /** @type {HTMLInputElement} */ (e.target).value)}
          @change=${(/** @type {Event} */ e) => on.typed(view, /** @type {HTMLInputElement} */ (e.target).value)} />
        <label for="slugs">slugs, snails</label>
      </div>
      <button type="button" class="key key-big" id="slugs-plus" aria-label="One slug more" @click=${() => on.count(view, 1)}>${icon('plus')}</button>
    </div>
    <p id="slugs-wrong" class=${card.wrong() ? 'wrong' : 'unseen'} role="alert">${card.wrong()}</p>
    ${child ? nothing : html`<div class="damage-row">${chips({ name: 'damage', legend: 'Damage', options: damages, value: card.damage, look: 'chips-damage', onPick: (damage) => on.damage(view, damage) })}
      <button type="button" class="key" id="more" @click=${() => on.more(view, true)}>More${card.marks() ? ` · ${card.marks()}` : ''}</button></div>`}
    <div class="card-acts">
      ${undoKey(view, () => on.undo(view))}
      <button type="button" class="key" id="skip" aria-disabled=${wait} @click=${() => on.skip(view)}>${icon('skip')} Skip</button>
      <button type="button" class="key key-main" id="tick" aria-disabled=${wait} @click=${() => on.tick(view)}>${icon('tick')} ${child ? 'Next' : 'Tick'}</button>
    </div>
    ${spot && spot.left > 0 && !child ? html`<button type="button" class="key key-wide" id="spot-clean" aria-disabled=${wait} @click=${() => on.spotClean(view)}>Rest of ${spot.spot ?? 'these'} is clean · ${spot.left}</button>` : nothing}
  </section>`;
}

/**
 * The caution that belongs to what is marked as done, once a day.
 * @param {View} view
 * @param {Card} card
 */
function didCaution(view, card) {
  /** @type {string[]} */
  const did = card.more.did;
  const key = did.includes('iron_phosphate') || did.includes('barrier') ? 'bait' : did.includes('hand_picked') ? 'salt' : null;
  return key && onceADay(localStorage, key, view.shown.round.day, card.request) ? CAUTION[key] : '';
}

/** What can be marked, group by group. @type {[keyof More, string, Record<string, string>][]} */
const MORE = [['others', 'Also seen', OTHER], ['hid', 'They hid', HID], ['did', 'What was done', DID]];

/**
 * Other animals, where slugs hid, what was done: marks only, nothing is typed.
 * @param {View} view
 * @param {Card} card
 * @param {On} on
 */
export function more(view, card, on) {
  return html`<div class="card more">
    <h1 tabindex="-1">Log ${card.stop.log.tag}: more</h1>
    ${MORE.map(([field, title, words]) => html`<section aria-labelledby=${`more-${field}`}>
      <h2 id=${`more-${field}`}>${title}</h2>
      <div class="marks">${Object.entries(words).map(([word, label]) => html`<button type="button" class="key" data-mark=${word}
        aria-pressed=${/** @type {string[]} */ (card.more[field]).includes(word) ? 'true' : 'false'} @click=${() => on.mark(view, field, word)}>${label}</button>`)}</div>
      ${field === 'did' ? html`<p class="card-caution" role="status">${didCaution(view, card)}</p>` : nothing}
    </section>`)}
    <button type="button" class="key key-main key-wide" id="more-done" @click=${() => on.more(view, false)}>${icon('tick')} Back to the card</button>
  </div>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function finder(view, on) {
  return keypad(view.digits ?? '', found(view.shown.stops, view.digits ?? '').map(({ stop, at }) => ({
    at, log: stop.log, done: stop.check !== null,
  })), { find: (digits) => on.find(view, digits), reach: (at) => on.reach(view, at) });
}

/**
 * The keypad and the logs whose tags have its digits.
 * @param {string} digits
 * @param {{at: number, log: LogRow, done: boolean}[]} hits
 * @param {{find: (digits: string | null) => void, reach: (at: number) => void}} on
 */
export function keypad(digits, hits, on) {
  const press = (/** @type {string} */ digit) => on.find(digits + digit);
  return html`<div class="finder">
    <h1 tabindex="-1">Find a log by its digits</h1>
    <p class="finder-digits" id="digits" role="status">${digits || html`<span class="soft">type the tag</span>`}${digits && hits.length === 0 ? html`<small>No log of this round has these digits.</small>` : nothing}</p>
    <ul class="plain finder-hits">${hits.map(({ at, log, done }) => html`<li><button type="button" class="key" data-reach=${log.tag} aria-label=${`Log ${log.tag}, ${whatItIs(log)}${log.spot ? `, ${log.spot}` : ''}${done ? ', done' : ''}`} @click=${() => on.reach(at)}>
      <strong>${log.tag}</strong>${done ? icon('tick') : nothing}
    </button></li>`)}</ul>
    <div class="keypad">
      ${['1', '2', '3', '4', '5', '6', '7', '8', '9'].map((digit) => html`<button type="button" class="key" data-digit=${digit} @click=${() => press(digit)}>${digit}</button>`)}
      <button type="button" class="key" id="erase" aria-label="Erase the last digit" @click=${() => on.find(digits.slice(0, -1))}>${icon('erase')}</button>
      <button type="button" class="key" data-digit="0" @click=${() => press('0')}>0</button>
      <button type="button" class="key" id="find-close" @click=${() => on.find(null)}>Close</button>
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
      ${undoKey(view, () => on.undo(view))}
      <button type="button" class="key key-main key-wide" id="end-round" ?disabled=${view.busy} @click=${() => on.end(view)}>${icon('tick')} End the round</button>
    </section>
  </div>`;
}
