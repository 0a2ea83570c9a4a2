// Twins: pickings of one log on one day that two devices entered. One picking, or two?
// It never guesses. Invariant: an answer is an act like any other and can be taken back.

import { html } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call, refused } from '../api/call.js';
import { head, trouble } from '../components/frame.js';
import { back, redraw, write } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { TWINS } from '../lib/topics.js';
import { question } from './parts.js';

/** @import {Twin, Twins} from '../api/types.js' */
/** @typedef {{twins: Twins[], busy: boolean, wrong: string}} View */

export const topics = TWINS;
export const title = () => 'One or two?';

/** @returns {Promise<View>} */
export async function load() {
  return { ...(await call('twins_show', {})), busy: false, wrong: '' };
}

/** @param {View} view */
export function render(view) {
  return html`${head('One or two?', { back: { label: 'Back', onBack: on.back } })}
    ${trouble(view.wrong)}
    <p class="soft" id="twins-left" role="status">${view.twins.length === 0 ? 'Nothing waits for an answer.' : 'Two devices entered pickings of one log for one day. Only you can tell whether it was one.'}</p>
    ${repeat(view.twins, ({ log, day }) => log + day, (twins) => question(twins, view, on))}`;
}

export const on = {
  back: () => back(link('care')),

  /**
   * @param {View} view
   * @param {Twins} twins
   */
  several: (view, twins) => answer(view, { entries: twins.entries.map(({ id }) => id), same: false, keep: null }),

  /**
   * @param {View} view
   * @param {Twin} keep
   * @param {Twin} gone
   */
  one: (view, keep, gone) => answer(view, { entries: [keep.id, gone.id], same: true, keep: keep.id }),
};

/**
 * @param {View} view
 * @param {{entries: string[], same: boolean, keep: string | null}} said
 */
async function answer(view, said) {
  if (view.busy) return;
  Object.assign(view, { busy: true, wrong: '' });
  redraw();
  try {
    await write('twin_answer', { ...said, request: newRequest() });
  } catch (error) {
    view.wrong = inOneText(refused(error));
  }
  view.busy = false;
  redraw();
}
