// A log's flushes, its risk of loss, and the way to note a sighting.
// It never decides which picking begins a flush; the backend does. Invariant: the grower's word on a flush can be taken back.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { sightedDrawing } from '../components/competitors.js';
import { icon } from '../components/icons.js';
import { whereFrom } from '../components/where-from.js';
import { tellTrouble, write } from '../flow/onshow.js';
import { count, dayName, grams, gramsAtLeast } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOSS_RISK, TELLS, lossWhy } from '../lib/words-rounds.js';

/** @import {LogFlush, FlushPicking, LossView} from '../api/types.js' */
/** @import {View} from './screen.js' */
/** @typedef {(picking: string, how: 'split' | 'join' | null) => void | Promise<void>} Mark */

/**
 * @param {View} view
 * @param {{mark: Mark}} on
 */
export function flushes({ fruit, row, today }, on) {
  return html`<section aria-labelledby="flushes-title">
    <h2 id="flushes-title">Flushes</h2>
    ${fruit.risk ? loss(fruit.risk, today) : nothing}
    ${fruit.flushes.length === 0 ? html`<p class="soft">None picked so far.</p>` : html`<ul class="plain">${fruit.flushes.map((flush) => html`<li class="entry-flush">
      <p><strong>${flush.n}.</strong> ${flush.from === flush.to ? dayName(flush.from, today) : `${dayName(flush.from, today)} to ${dayName(flush.to, today)}`}: ${weight(flush)} in ${count(flush.pickings.length, 'picking')}</p>
    </li>`)}</ul>
    <details class="where"><summary>Split or join</summary>
      <p>Pickings less than ${count(fruit.gap_days, 'day')} apart, with no soak between, are one flush (ours; common practice speaks of about three weeks). The days stand in <a href=${link('settings')}>Settings</a>.</p>
      <ul class="plain">${fruit.flushes.flatMap((flush, f) => flush.pickings.map((picking, p) => choice(picking, p === 0, f === 0 && p === 0, today, on)))}</ul>
    </details>`}
    <p class="acts"><a class="button" id="note-sighting" href=${link('sighting', { log: row.id })}>${icon('find')} Note a sighting</a></p>
  </section>`;
}

/** @param {LossView} risk @param {string} today */
function loss(risk, today) {
  return html`<div class="mind loss" id="loss-risk">${risk.what ? sightedDrawing(risk.what) : nothing}<p><strong>${LOSS_RISK[risk.risk]}</strong> ${lossWhy(risk, today)}${risk.tells ? ` ${TELLS[risk.tells]}` : ''}</p></div>
    ${whereFrom({ how: 'loss_risk', inputs: [], mark: 'common', source: '', logs: null })}`;
}

/** @param {LogFlush} flush */
function weight({ grams: sum, unweighed, pickings }) {
  return unweighed === pickings.length ? 'not weighed' : gramsAtLeast(sum, unweighed);
}

/**
 * @param {FlushPicking} picking
 * @param {boolean} begins
 * @param {boolean} first
 * @param {string} today
 * @param {{mark: Mark}} on
 */
function choice({ entry, day, grams: g, how }, begins, first, today, on) {
  const said = how === 'split' ? 'said to begin one' : how === 'join' ? 'said to belong to the one before' : begins ? 'begins one' : 'goes on';
  return html`<li data-picking=${entry}><p>${dayName(day, today)}, ${grams(g)}: ${said}.</p>
    ${first ? nothing : html`<p class="acts">${begins ? html`<button type="button" class="button" data-flush="join" @click=${() => on.mark(entry, 'join')}>Join with the one before</button>` : html`<button type="button" class="button" data-flush="split" @click=${() => on.mark(entry, 'split')}>Begin a new flush here</button>`}
    ${how ? html`<button type="button" class="button button-quiet" data-flush="gap" @click=${() => on.mark(entry, null)}>By the gap again</button>` : nothing}</p>`}</li>`;
}

/**
 * @param {string} picking
 * @param {'split' | 'join' | null} how
 */
export async function mark(picking, how) {
  try {
    await write('flush_mark', { picking, how, request: newRequest() });
  } catch (error) {
    tellTrouble(error);
  }
}
