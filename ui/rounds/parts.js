// The pieces of the Rounds screen: slug weather, baskets, rounds walked, cautions.
// They never call the backend. Invariant: without weather nothing is said of it.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { capital, count, dayName, grams, listed, when } from '../lib/format.js';
import { deviceName } from '../lib/jobs.js';
import { link } from '../lib/router.js';
import { CAUTION, SUITS, basketLogs, reasonWords } from '../lib/words-rounds.js';

/** @import {Basket, BasketPair, RoundRow} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @param {{weather: View['weather']}} view */
export function slugWeather({ weather }) {
  if (!weather) return nothing;
  return html`<section class="sheet" id="slug-weather" aria-labelledby="weather-title">
    <h2 id="weather-title">${SUITS[weather.suits]}</h2>
    <p>${capital(weather.reasons.map(reasonWords).join(', '))}${weather.unknown.length ? `. Not known: ${weather.unknown.join(' and ')}` : ''}.</p>
    <details class="where"><summary>Where from</summary><p>From the weather in the register. Thresholds: ${[...new Set(weather.reasons.map(({ source }) => source))].join('; ')} (published). What counts as wet, as a fall and as driving rain is our choice.</p></details>
  </section>`;
}

/**
 * @param {View} view
 * @param {{answer: (basket: string, keep: string | null) => void}} on
 */
export function baskets(view, on) {
  if (view.baskets.length === 0) return nothing;
  return html`<section aria-labelledby="baskets-title">
    <h2 id="baskets-title">Baskets</h2>
    ${view.baskets.map((basket) => (basket.twice.length ? twice(basket, view, on) : html`<div class="sheet group" data-basket=${basket.id}>
      <p>Of ${dayName(basket.day, view.today)}: ${count(basket.pickings.length, 'picking')}, ${basketLogs(basket)}. Not weighed yet.</p>
      <p class="acts"><a class="button button-main" data-weigh=${basket.id} href=${link('basket', { basket: basket.id })}>Weigh it</a></p>
    </div>`))}
  </section>`;
}

/**
 * @param {Basket} basket
 * @param {View} view
 * @param {{answer: (basket: string, keep: string | null) => void}} on
 */
function twice(basket, view, on) {
  return html`<div class="sheet group" data-basket=${basket.id}>
    <p><strong>One basket or two?</strong> The basket of ${dayName(basket.day, view.today)} (${basketLogs(basket)}) was weighed on ${basket.twice.length} devices.</p>
    <p class="acts">${basket.twice.map((weighed) => html`<button type="button" class="button" data-keep=${weighed.act} @click=${() => on.answer(basket.id, weighed.act)}>One, and ${grams(weighed.grams)} is right <span class="soft">${deviceName(weighed.device)}, ${when(weighed.at, view.today)}</span></button>`)}
    <button type="button" class="button" data-keep="both" @click=${() => on.answer(basket.id, null)}>Two: keep both</button></p>
  </div>`;
}

/**
 * Two baskets of one day that hold the same logs: asked once, for all of them.
 * @param {View} view
 * @param {{pair: (pair: BasketPair, keep: string | null) => void}} on
 */
export function pairs(view, on) {
  return view.pairs.map((pair) => html`<section class="sheet group" data-pair=${pair.one.id} aria-label="One basket or two?">
    <p><strong>One basket or two?</strong> Two devices filled a basket ${dayName(pair.one.day, view.today)}, and ${pair.tags.length === 1 ? 'log' : 'logs'} ${listed(pair.tags)} ${pair.tags.length === 1 ? 'lies' : 'lie'} in both.</p>
    <p class="acts">${[{ basket: pair.one, by: pair.one_by }, { basket: pair.other, by: pair.other_by }].map(({ basket, by }) => html`<button type="button" class="button" data-keep=${basket.id} @click=${() => on.pair(pair, basket.id)}>One: keep ${held(basket)} <span class="soft">${deviceName(by)}, ${when(basket.opened, view.today)}</span></button>`)}
    <button type="button" class="button" data-keep="both" @click=${() => on.pair(pair, null)}>Two: keep both</button></p>
  </section>`);
}

/** @param {Basket} basket */
function held(basket) {
  return `${basket.grams === null ? 'the one not weighed' : grams(basket.grams)}, ${basketLogs(basket)}`;
}

export function cautions() {
  return html`<details class="where"><summary>Mind, on a round</summary><p>${CAUTION.salt}</p><p>${CAUTION.bait}</p><p>${CAUTION.animals}</p><p>${CAUTION.look_alike}</p></details>`;
}

/** @param {View} view */
export function list({ rounds, today }) {
  if (rounds.length === 0) return nothing;
  return html`<section aria-labelledby="walked-title">
    <h2 id="walked-title">Walked</h2>
    <ul class="plain">${rounds.map((round) => html`<li><a class="way-line" data-round=${round.id} href=${link(round.kind === 'night' ? 'round' : 'pick-round', { round: round.id })}><span><strong>${round.kind === 'night' ? 'Night round' : 'Picking round'}, ${dayName(round.day, today)}</strong><span class="soft">${line(round)}</span></span></a></li>`)}</ul>
  </section>`;
}

/** @param {RoundRow} round */
function line(round) {
  const parts = [`${round.done} of ${count(round.logs, 'log')}`];
  if (round.kind === 'night') parts.push(count(round.slugs, 'slug'));
  if (round.spots.length) parts.push('a half');
  if (round.halves) parts.push(`joined with ${count(round.halves, 'other', 'others')}`);
  if (round.child) parts.push('a child’s');
  if (round.later) parts.push('typed in afterwards');
  if (!round.ended) parts.push('open');
  return parts.join(', ');
}
