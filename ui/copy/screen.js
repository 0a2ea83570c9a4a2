// One copy of the register: what is in it, what going back to it would lose, and the way back.
// It never restores by itself. Invariant: what would be lost is said before the button that loses it.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { begin, follow, isRunning, stop, workOf } from '../flow/job.js';
import { back, finish, tell } from '../flow/onshow.js';
import { closed, look } from '../flow/standing.js';
import { when } from '../lib/format.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { goBack, lost, whatIsIn } from './parts.js';

/** @import {Closed, JobView, Place, RestoreView} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */

/** @typedef {{copy: RestoreView, from: Place, closed: Closed | null, work: Work, request: string, gone: boolean}} View */

export const topics = /** @type {string[]} */ ([]);
export const title = (/** @type {View} */ view) => `Copy of ${when(view.copy.at, '')}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ from, name }) {
  const place = from === 'snapshots' ? 'snapshots' : 'backups';
  const copy = await call('restore_preview', { name, from: place });
  /** @type {View} */
  const view = { copy, from: place, closed: closed(), work: workOf('restore'), request: newRequest(), gone: false };
  void follow(view, view.work, (job) => on.ended(view, job));
  return view;
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
}

/** @param {View} view */
export function render(view) {
  return html`${head(title(view), { back: { label: 'Back', onBack: on.back } })}
    ${lost(view)}
    ${whatIsIn(view)}
    ${goBack(view, on)}`;
}

export const on = {
  back: () => back(link('care')),

  /** @param {View} view */
  restore(view) {
    if (isRunning(view.work)) return;
    const { name } = view.copy;
    void begin(view, view.work, () => call('restore_do', { name, from: view.from, request: view.request }), (job) => on.ended(view, job));
  },

  /** @param {View} view */
  stop: (view) => void stop(view.work),

  /**
   * Every screen asks the register anew when it is shown, so nothing of what was before stays on show.
   * @param {View} view
   * @param {JobView} job
   */
  async ended(view, job) {
    view.request = newRequest();
    if (job.state !== 'done') return;
    const aside = view.closed === 'damaged' || view.copy.now === null;
    await look();
    finish(link('care'));
    const then = aside ? 'The damaged register was put aside in the yard folder.' : 'To take this back, go back to the snapshot taken just before.';
    tell(`The yard is as it was on ${when(view.copy.at, '')}. ${then}`);
  },
};
