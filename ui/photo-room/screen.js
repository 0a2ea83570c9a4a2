// The room photos take on this device, and moving originals out of it for a small phone.
// It never lets an original go before it was read back elsewhere; the backend sees to that. Invariant: what was moved says where it is.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips, text } from '../components/field.js';
import { head } from '../components/frame.js';
import { work } from '../components/work.js';
import { begin, follow, stop, workOf } from '../flow/job.js';
import { back, redraw } from '../flow/onshow.js';
import { bytes, count } from '../lib/format.js';
import { foundWords, resultOf } from '../lib/jobs.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';

/** @import {JobView, PhotoRoomView} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */
/** @typedef {PhotoRoomView & {folder: string, keep: string, out: Work, home: Work, gone: boolean}} View */

const MB = 1e6;

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Photos on this device';

/** @returns {Promise<View>} */
export async function load() {
  const room = await call('photo_room', {});
  /** @type {View} */
  const view = { ...room, folder: room.folders[0] ?? '', keep: '1000', out: workOf('originals-out'), home: workOf('originals-home'), gone: false };
  void follow(view, view.out, () => freshen(view));
  void follow(view, view.home, () => freshen(view));
  return view;
}

/** @param {View} view */
export function leave(view) {
  view.gone = true;
}

/** @param {View} view */
async function freshen(view) {
  if (!view.gone) Object.assign(view, await call('photo_room', {}));
  redraw();
}

/** @param {View} view */
export function render(view) {
  /** @type {[string, string][]} */
  const facts = [['Originals here', `${count(view.here, 'photo')}, ${bytes(view.here_bytes)}`], ['Previews', bytes(view.made_bytes)],
    ['Moved out', view.moved === 0 ? 'none' : `${count(view.moved, 'photo')}, ${bytes(view.moved_bytes)}, in ${view.folders.join(' and ')}`], ['Loose', view.loose === 0 ? 'none' : count(view.loose, 'photo')]];
  return html`${head('Photos on this device', { back: { label: 'Back', onBack: on.back } })}
    <section class="sheet" aria-label="Room"><dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
      ${view.loose ? html`<p><a class="button" href=${link('photos')}>See the loose photos</a></p>` : nothing}</section>
    <section class="sheet group" aria-labelledby="out-title">
      <h2 id="out-title">Move originals out</h2>
      <p>For a small phone: the oldest originals go to a card or disk. Each is read back there before it is let go of here. Previews stay, so the record still shows every photo.</p>
      ${text({ name: 'folder', label: 'Folder, its whole path', value: view.folder, onInput: (value) => on.typed(view, value) })}
      ${chips({ name: 'keep', legend: 'Keep here at most', options: [['0', 'none'], ['200', '200 MB'], ['1000', '1 GB'], ['4000', '4 GB']].map(([value, label]) => ({ value, label })), value: view.keep, onPick: (keep) => on.keep(view, keep) })}
      ${work({ name: 'out', label: 'Move them out', work: view.out, words: OUT, onBegin: () => on.out(view), onStop: () => void stop(view.out) })}
      ${troubles(view.out)}
    </section>
    ${view.moved ? html`<section class="sheet" aria-labelledby="home-title"><h2 id="home-title">Bring them back</h2>
      ${work({ name: 'home', label: 'Bring all back', work: view.home, words: HOME, onBegin: () => on.home(view), onStop: () => void stop(view.home) })}
      ${troubles(view.home)}</section>` : nothing}
    ${orphans(view)}`;
}

/** @param {Work} shown */
function troubles(shown) {
  const found = shown.job?.state === 'running' ? [] : shown.job?.found ?? [];
  return found.length && shown.job?.state === 'done' ? html`<ul class="care-found">${foundWords(found).map((line) => html`<li>${line}</li>`)}</ul>` : nothing;
}

/** @param {View} view */
function orphans({ orphans: list }) {
  if (list.length === 0) return nothing;
  return html`<section class="sheet" aria-labelledby="orphans-title"><h2 id="orphans-title">Files without a record</h2>
    <p>${list.length === 1 ? 'One file lies' : `${list.length} files lie`} among the photos that nothing in the record names; keeping it was broken off, perhaps by an empty battery. Nothing is swept away: keep the same photo again, and it is in the record.</p>
    <ul class="plain" id="orphans">${list.slice(0, 50).map(({ hash, bytes: size }) => html`<li class="soft">${hash.slice(0, 12)}…, ${bytes(size)}</li>`)}</ul></section>`;
}

const OUT = {
  running: 'Moving',
  done: (/** @type {JobView} */ job) => (resultOf(job).of ? `${count(resultOf(job).moved, 'photo')} moved out and read back.` : 'Nothing had to go: there is less here than you keep.'),
  stopped: 'Stopped. What was moved is whole there; the rest is here.',
  failed: 'It could not go on. What was moved is whole there; the rest is here.',
};

const HOME = {
  running: 'Bringing back',
  done: (/** @type {JobView} */ job) => `${count(resultOf(job).moved, 'photo')} of ${resultOf(job).of} brought back. The copies there stay.`,
  stopped: 'Stopped. The rest is still there.',
  failed: 'It could not go on. The rest is still there.',
};

export const on = {
  back: () => back(link('care')),

  /**
   * @param {View} view
   * @param {string} folder
   */
  typed(view, folder) {
    view.folder = folder;
  },

  /**
   * @param {View} view
   * @param {string} keep
   */
  keep(view, keep) {
    view.keep = keep;
    redraw();
  },

  /** @param {View} view */
  out: (view) => void begin(view, view.out, () => call('originals_out', { folder: view.folder.trim(), keep_bytes: Number(view.keep) * MB, request: newRequest() }), () => freshen(view)),

  /** @param {View} view */
  home: (view) => void begin(view, view.home, () => call('originals_home', { request: newRequest() }), () => freshen(view)),
};
