// Last acts: what was done, in words, newest first, each with its undo where it has one.
// It never edits an act. Invariant: what was taken back stays in the list and says so.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { capital, clockTime, dayName } from '../lib/format.js';
import { deviceName } from '../lib/jobs.js';
import { back, undo } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { ALL } from '../lib/topics.js';
import { sentence } from '../lib/words.js';

/** @import {ActRow} from '../api/types.js' */
/** @typedef {{acts: ActRow[]}} View */

export const topics = ALL;
export const title = () => 'Last acts';

/** @returns {Promise<View>} */
export function load() {
  return call('act_list', { limit: 200 });
}

/** @param {View} view */
export function render(view) {
  const several = new Set(view.acts.map(({ device }) => device)).size > 1;
  const days = [...new Set(view.acts.map(({ at }) => at.slice(0, 10)))];
  return html`${head('Last acts', { back: { label: 'Back', onBack: on.back } })}
    ${view.acts.length === 0 ? html`<p class="soft">Nothing was done yet.</p>` : nothing}
    ${days.map((day) => html`<section aria-labelledby=${`day-${day}`}>
      <h2 id=${`day-${day}`}>${dayName(day)}</h2>
      <ol class="plain acts-list">${repeat(view.acts.filter(({ at }) => at.startsWith(day)), ({ act }) => act, (act) => line(act, several))}</ol>
    </section>`)}`;
}

/**
 * @param {ActRow} act
 * @param {boolean} several more than one device wrote: each act says which
 */
function line(act, several) {
  const words = sentence(act.name, act.said);
  const again = act.name === 'undo';
  return html`<li class=${`act-line ${act.undone ? 'act-undone' : ''}`} data-act-id=${act.act} data-act-name=${act.name}>
    <p><span class="soft">${clockTime(act.at)}</span> <span class="act-words">${words}</span>${several ? html` <span class="soft act-device">${act.mine ? 'This device' : capital(deviceName(act.device))}</span>` : nothing}${act.undone ? html` <strong>${again ? 'Done again since.' : 'Taken back.'}</strong>` : nothing}</p>
    ${act.undoable && !act.undone ? html`<button type="button" class="button" data-undo=${act.act} @click=${() => on.undo(act)}>${icon('undo')} ${again ? 'Do again' : 'Undo'}<span class="unseen">: ${words}</span></button>` : nothing}
  </li>`;
}

export const on = {
  back: () => back(link('chores')),
  /** @param {ActRow} act */
  undo: (act) => void undo(act.act),
};
