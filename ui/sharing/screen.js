// Sharing: meeting another device in a folder. What would come and go is said first, then merged.
// It never chooses between two hands. Invariant: looking writes nothing; a merge can be stopped and taken back.

import { html } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { head } from '../components/frame.js';
import { begin, follow, isRunning, stop, workOf } from '../flow/job.js';
import { back, redraw } from '../flow/onshow.js';
import { showWrong } from '../flow/form.js';
import { explain, inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { ALL } from '../lib/topics.js';
import { both, folder, lastMerge, preview } from './parts.js';

/** @import {BackupRow, Contradiction, MergeView, Twins} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @import {Work} from '../flow/job.js' */

/**
 * @typedef {object} View
 * @property {string} folder as typed
 * @property {string | null} shared the folder that is set
 * @property {MergeView | null} seen what merging would bring
 * @property {boolean} looking
 * @property {Wrong | null} wrong
 * @property {Work} work
 * @property {BackupRow | null} before the snapshot before the last merge
 * @property {Contradiction[]} clashes
 * @property {Twins[]} twins
 * @property {string} request
 * @property {boolean} gone
 */

export const topics = ALL;
export const title = () => 'Sharing';

/** @returns {Promise<View>} */
export async function load() {
  const { shared, before, clashes, twins } = await left();
  /** @type {View} */
  const view = {
    folder: shared ?? '', shared, seen: null, looking: false, wrong: null, work: workOf('merge'),
    before, clashes, twins, request: newRequest(), gone: false,
  };
  void follow(view, view.work, () => on.ended(view));
  return view;
}

/** What the last merge left: the way back, and what waits for an answer. */
async function left() {
  const [care, { contradictions }, { twins }] = await Promise.all([call('care_show', {}), call('contradictions_show', {}), call('twins_show', {})]);
  const before = care.snapshots.find(({ name }) => name.startsWith('before-merge')) ?? null;
  return { shared: care.shared_folder, before, clashes: contradictions, twins };
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
}

/** @param {View} view */
export function render(view) {
  return html`${head('Sharing', { back: { label: 'Back', onBack: on.back } })}
    ${folder(view, on)}
    ${preview(view, on)}
    ${lastMerge(view)}
    ${both(view)}`;
}

export const on = {
  back: () => back(link('care')),

  /**
   * @param {View} view
   * @param {string} typed
   */
  typed(view, typed) {
    view.folder = typed;
    if (view.seen) {
      view.seen = null;
      redraw();
    }
  },

  /**
   * Keeps the folder and says what merging with it would bring.
   * @param {Event} event
   * @param {View} view
   */
  async look(event, view) {
    event.preventDefault();
    if (view.looking || isRunning(view.work)) return;
    const typed = view.folder.trim();
    Object.assign(view, { looking: true, wrong: null, seen: null, work: workOf('merge') });
    redraw();
    try {
      if (typed !== view.shared) await call('merge_folder', { folder: typed });
      view.shared = typed;
      view.seen = await call('merge_preview', { folder: typed });
      view.looking = false;
      redraw();
    } catch (error) {
      const why = refused(error);
      view.looking = false;
      showWrong(view, { field: explain(why).field === 'folder' ? 'folder' : null, text: inOneText(why) });
    }
  },

  /** @param {View} view */
  merge(view) {
    if (!view.seen || isRunning(view.work)) return;
    void begin(view, view.work, () => call('merge_do', { folder: view.shared, request: view.request }), () => on.ended(view));
  },

  /** @param {View} view */
  stop: (view) => void stop(view.work),

  /**
   * What was merged is shown, and what it left open.
   * @param {View} view
   */
  async ended(view) {
    Object.assign(view, { seen: null, request: newRequest() });
    redraw();
    const { before, clashes, twins } = await left();
    Object.assign(view, { before, clashes, twins });
  },
};
