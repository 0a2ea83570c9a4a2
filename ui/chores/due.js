// What is due, line by line: what to do, why, on whose word, the one tap that does it, and putting it off.
// It never decides what is due or in which order. Invariant: an empty list is said in words.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { icon } from '../components/icons.js';
import { whereFrom } from '../components/where-from.js';
import { count, dayName, dayPlus } from '../lib/format.js';
import { link } from '../lib/router.js';
import { ORDER, URGENCY, heading, reason, tapWord } from '../lib/words-chores.js';

/** @import {Due} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @typedef {{tap: (view: View, due: Due) => void, later: (view: View, key: string, until: string | null) => void, round: (view: View) => void}} On */

/**
 * @param {View} view
 * @param {On} on
 */
export function dues(view, on) {
  const { due, put_off: off, today } = view;
  // Before the first log only felled wood can be due.
  if (view.total === 0 && !due.some(({ what }) => what === 'lay')) return nothing;
  return html`<section aria-labelledby="due-title">
    <h2 id="due-title">Due</h2>
    ${due.length === 0 ? html`<p id="nothing-due">${off.length ? 'Nothing else is due.' : 'Nothing is due. The yard can be left alone today.'}</p>`
    : html`<ol class="plain due-list">${repeat(due, ({ key }) => key, (one) => line(view, one, on))}</ol>`}
    ${off.length ? html`<details class="where" id="put-off"><summary>${count(off.length, 'chore')} put off</summary>
      <ul class="plain">${off.map(({ due: one, until }) => html`<li class="off-line"><span>${heading(one)} <span class="soft">till ${dayName(until, today)}</span></span>
        <button type="button" class="button" data-back=${one.key} ?disabled=${view.busy} @click=${() => on.later(view, one.key, null)}>Back on the list</button></li>`)}</ul>
    </details>` : nothing}
    ${due.length > 1 ? html`<details class="where"><summary>Why this order</summary><p>${ORDER}</p></details>` : nothing}
    <nav class="acts" aria-label="The yard’s work">
      <a class="button" id="to-tank" href=${link('tank')}>Tank${view.in_tank ? ` · ${view.in_tank}` : ''}</a>
      <a class="button" id="to-water" href=${link('watering')}>Water</a>
      <a class="button" id="to-weigh" href=${link('weigh')}>Weigh</a>
      <a class="button" id="to-weather" href=${link('weather')}>Weather</a>
    </nav>
  </section>`;
}

/**
 * @param {View} view
 * @param {Due} due
 * @param {On} on
 */
function line(view, due, on) {
  return html`<li class="due-line" data-due=${due.what} data-urgency=${due.urgency}>
    <p class="due-urgency">${URGENCY[due.urgency]}</p>
    <h3>${heading(due)}</h3>
    <p>${reason(due, view.today)}</p>
    ${due.logs.length > 8 || due.logs.length > 1 ? html`<details class="where due-logs"><summary>Which</summary><p>${due.logs.map(({ id, tag }, i) => html`${i ? ', ' : ''}<a href=${link(due.what === 'pick' ? 'picking' : due.what.startsWith('look') ? 'look' : 'log', { log: id })}>${tag}</a>`)}</p></details>` : nothing}
    <p class="due-acts">${tap(view, due, on)}
      <button type="button" class="button" data-later="1" ?disabled=${view.busy} @click=${() => on.later(view, due.key, dayPlus(view.today, 1))}>Tomorrow<span class="unseen">: ${heading(due)}</span></button>
      <button type="button" class="button" data-later="7" ?disabled=${view.busy} @click=${() => on.later(view, due.key, dayPlus(view.today, 7))}>In a week<span class="unseen">: ${heading(due)}</span></button></p>
    ${whereFrom(due.from)}
  </li>`;
}

/**
 * @param {View} view
 * @param {Due} due
 * @param {On} on
 */
function tap(view, due, on) {
  const words = html`${tapWord(due)}<span class="unseen">: ${heading(due)}</span>`;
  if (due.what === 'round') return html`<button type="button" class="button button-main" data-tap=${due.what} ?disabled=${view.busy} @click=${() => on.round(view)}>${icon('moon')} ${words}</button>`;
  if (due.tap.command) return html`<button type="button" class="button button-main" data-tap=${due.what} ?disabled=${view.busy} @click=${() => on.tap(view, due)}>${icon('tick')} ${words}</button>`;
  // Several ripe logs: the list of them stands below, each with its own way to pick.
  const href = due.tap.screen === 'chores' ? '#caps-title' : link(/** @type {any} */ (due.tap.screen), due.tap.params);
  if (href === '#caps-title') return html`<button type="button" class="button button-main" data-tap=${due.what} @click=${() => document.getElementById('caps-title')?.scrollIntoView({ block: 'start' })}>${icon('basket')} ${words}</button>`;
  return html`<a class="button button-main" data-tap=${due.what} id=${due.what === 'backup' ? 'care-backup' : `tap-${due.key.replace(/[^\w-]/g, '-')}`} href=${href}>${words}</a>`;
}
