// Rounds: what tonight is like, which round to start and how, baskets that wait, and what was walked.
// It never walks a round. Invariant: a round that is open is gone on with, not begun twice.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips } from '../components/field.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { handOut } from '../flow/hand-out.js';
import { back, go, redraw, tellTrouble, write } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { WALK, WHEN } from '../lib/words-rounds.js';
import { baskets, cautions, list, pairs, slugWeather } from './parts.js';

/** @import {BasketPair, RoundsView} from '../api/types.js' */
/** @typedef {'night' | 'picking'} Kind */
/** @typedef {Omit<RoundsView, 'spots'> & {spots_choice: RoundsView['spots'], kind: Kind, when: 'now' | 'last_night', spots: string[], child: boolean, busy: boolean, request: string}} View */

export const topics = ['*'];
export const title = () => 'Rounds';

/** @returns {Promise<View>} */
export async function load() {
  const shown = await call('rounds_show', {});
  return { ...shown, spots_choice: shown.spots, kind: 'night', when: 'now', spots: [], child: false, busy: false, request: newRequest() };
}

/** @param {View} view */
export function render(view) {
  const plain = view.when === 'now' && view.spots.length === 0 && !view.child;
  const open = plain ? (view.kind === 'night' ? view.night : view.picking) : null;
  return html`${head('Rounds', { back: { label: 'Back', onBack: on.back } })}
    ${slugWeather(view)}
    <section class="sheet group" aria-labelledby="start-title">
      <h2 id="start-title">Start a round</h2>
      ${chips({ name: 'kind', legend: 'Which', options: [{ value: /** @type {Kind} */ ('night'), label: 'Night round' }, { value: /** @type {Kind} */ ('picking'), label: 'Picking round' }], value: view.kind, onPick: (kind) => on.set(view, { kind, child: false }) })}
      ${chips({ name: 'when', legend: 'When', options: WHEN, value: view.when, hint: view.when === 'last_night' ? 'Typed in afterwards; its hour is kept as not known.' : undefined, onPick: (when) => on.set(view, { when }) })}
      ${spots(view)}
      ${view.kind === 'night' ? html`<label class="check-line"><input type="checkbox" id="child" .checked=${view.child} @change=${(/** @type {Event} */ e) => on.set(view, { child: /** @type {HTMLInputElement} */ (e.target).checked })} /> <span>A child’s round: it only counts slugs</span></label>` : nothing}
      <p class="acts"><button type="button" class="button button-main button-wide" id="start-round" ?disabled=${view.busy} @click=${() => on.start(view)}>${icon(view.kind === 'night' ? 'moon' : 'basket')} <span>${open ? `Go on with it · ${open.done + open.skipped} of ${open.logs}` : 'Start'}</span></button></p>
    </section>
    ${baskets(view, on)}
    ${pairs(view, on)}
    <nav class="log-acts" aria-label="More about rounds">
      <a class="button" id="sheet" href=${link('sheet')}>${icon('edit')} Printed round sheet</a>
      <a class="button" id="sighting" href=${link('sighting')}>${icon('find')} Note a sighting</a>
      <a class="button" id="losses" href=${link('losses')}>${icon('slug')} What it costs</a>
      ${view.has_hour ? html`<button type="button" class="button" id="calendar" @click=${on.calendar}>${icon('chores')} Tonight into a calendar</button>` : nothing}
    </nav>
    <details class="where" id="walk-order"><summary>In which order a night round walks</summary><p>${WALK}</p></details>
    ${cautions()}
    ${list(view)}`;
}

/** @param {View} view */
function spots(view) {
  if (view.spots_choice.length < 2) return nothing;
  return html`<fieldset class="spot-choice"><legend class="legend">Spots <span class="unit">none chosen: all of them</span></legend>
    <p class="hint">Two people can split a round; the halves join when you merge.</p>
    ${view.spots_choice.map((spot) => html`<label class="check-line"><input type="checkbox" name="spot" value=${spot.id} .checked=${view.spots.includes(spot.id)} @change=${() => on.spot(view, spot.id)} /> <span>${spot.name} · ${spot.logs}</span></label>`)}
  </fieldset>`;
}

export const on = {
  back: () => back(link('chores')),

  /** @param {View} view @param {Partial<View>} words */
  set(view, words) {
    Object.assign(view, words);
    redraw();
  },

  /** @param {View} view @param {string} spot */
  spot(view, spot) {
    view.spots = view.spots.includes(spot) ? view.spots.filter((s) => s !== spot) : [...view.spots, spot];
    redraw();
  },

  /** @param {View} view */
  async start(view) {
    if (view.busy) return;
    const { kind, when, child, spots: chosen } = view;
    const route = kind === 'night' ? 'round' : 'pick-round';
    const plain = when === 'now' && chosen.length === 0 && !child;
    const open = kind === 'night' ? view.night : view.picking;
    if (plain && open) return void go(link(route, { round: open.id }));
    view.busy = true;
    redraw();
    try {
      const done = await write('round_start', { kind, when, spots: chosen.length ? chosen : null, child, request: view.request });
      void go(link(route, { round: done.said.round }));
    } catch (error) {
      view.busy = false;
      tellTrouble(error);
    }
  },

  async calendar() {
    try {
      const { name, text } = await call('calendar_file', {});
      handOut(name, btoa(String.fromCharCode(...new TextEncoder().encode(text))));
    } catch (error) {
      tellTrouble(error);
    }
  },

  /**
   * @param {BasketPair} pair
   * @param {string | null} keep the basket that stays; null: both
   */
  async pair({ one, other }, keep) {
    try {
      await write('basket_pair_answer', { one: one.id, other: other.id, keep, request: newRequest() });
    } catch (error) {
      tellTrouble(error);
    }
  },

  /**
   * @param {string} basket
   * @param {string | null} keep the weighing that stays; null: both
   */
  async answer(basket, keep) {
    try {
      await write('basket_answer', { basket, keep, request: newRequest() });
    } catch (error) {
      tellTrouble(error);
    }
  },
};
