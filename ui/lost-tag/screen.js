// A log without its tag: what is seen on it, the logs it can be as photos and end grain, and giving it a tag again.
// It never decides which it is. Invariant: a log that nobody described stays on the list.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { call, refused } from '../api/call.js';
import { endgrain } from '../components/endgrain.js';
import { select, text } from '../components/field.js';
import { head } from '../components/frame.js';
import { tagLabel, whatItIs } from '../components/log-line.js';
import { photoStrip } from '../components/photo.js';
import { showWrong, wrongAt } from '../flow/form.js';
import { inOneText } from '../lib/explain.js';
import { back, go, readdress, redraw, tellTrouble, write } from '../flow/onshow.js';
import { capital, cm, size } from '../lib/format.js';
import { readCm } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { STATE } from '../lib/words.js';

/** @import {Candidate, LostTagView} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @typedef {LostTagView & {typed: {spot: string, wood: string, thick: string}, chosen: string | null, tag: string, busy: boolean, wrong: Wrong | null, request: string, asked: number}} View */

export const topics = LOGS;
export const title = () => 'A lost tag';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ spot = '', wood = '', thick = '' }) {
  const typed = { spot, wood, thick };
  const found = await call('lost_tag_find', asked(typed));
  return { ...found, typed, chosen: null, tag: '', busy: false, wrong: null, request: newRequest(), asked: 0 };
}

/** @param {View['typed']} typed */
function asked({ spot, wood, thick }) {
  const read = readCm(thick);
  return { spot: spot || null, wood: wood || null, thick_mm: read.ok ? read.value : null };
}

/** @param {View} view */
export function render(view) {
  const { typed, wrong } = view;
  const set = (/** @type {keyof View['typed']} */ field) => (/** @type {string} */ value) => on.seen(view, field, value);
  return html`${head('A lost tag', { back: { label: 'Back', onBack: on.back } })}
    <section class="sheet group" aria-labelledby="seen-title">
      <h2 id="seen-title">What you see on it</h2>
      ${select({ name: 'spot', label: 'Where it lies', value: typed.spot, options: [{ value: '', label: 'anywhere' }, ...view.spots.map(({ id, name }) => ({ value: id, label: name }))], onInput: set('spot') })}
      ${select({ name: 'wood', label: 'Wood', value: typed.wood, options: [{ value: '', label: 'cannot tell' }, ...view.woods.map(({ value, name }) => ({ value, label: name }))], onInput: set('wood') })}
      ${text({ name: 'thick_mm', label: 'Thickness', unit: 'cm', value: typed.thick, keys: 'decimal', hint: `Measure either end. A difference of ${cm(view.tolerance_mm)} cm counts as the same.`, wrong: wrongAt(wrong, 'thick_mm'), onInput: set('thick') })}
    </section>
    <p id="found" role="status">${said(view)}</p>
    <ul class="plain candidates">${repeat(view.candidates, ({ row }) => row.id, (one) => candidate(one, view))}</ul>`;
}

/** @param {View} view */
function said({ found, candidates, typed }) {
  if (found === 0 && !typed.spot && !typed.wood && !typed.thick) return 'There is no live log in the yard yet; add it as a new one.';
  if (found === 0) return 'No live log is like that. Leave something open, or add it as a new log.';
  return `It can be ${found === 1 ? 'one log' : `one of ${found} logs`}${found > candidates.length ? `; the ${candidates.length} that fit best` : ''}. Compare the pictures.`;
}

/**
 * @param {Candidate} one
 * @param {View} view
 */
function candidate({ row, fit, photos }, view) {
  const odd = [fit.spot === 'no' ? `written down for ${row.spot ?? 'another spot'}` : '', fit.wood === 'open' ? 'its wood was not written down' : '', fit.thick === 'open' ? 'it was never measured' : ''].filter(Boolean);
  return html`<li class="sheet candidate" data-log=${row.id}>
    <div class="candidate-head">${endgrain(row, { spoken: true })}
      <div class="log-line-words">${tagLabel(row.tag || 'no tag', row.tag_twice)}<span>${whatItIs(row)}</span><span>${size(row) || 'not measured'}</span>
      <span class="soft">${capital(STATE[row.state])}${row.spot ? ` · ${row.spot}` : ''}</span>${odd.length ? html`<span class="soft">Mind: ${odd.join('; ')}.</span>` : nothing}</div></div>
    ${photos.length ? photoStrip(photos, `log ${row.tag}`, (hash) => link('photo', { log: row.id, hash })) : html`<p class="soft">No photo of it.</p>`}
    ${view.chosen === row.id ? retag(view) : html`<p class="acts"><button type="button" class="button" data-act="this" @click=${() => on.choose(view, row.id, row.tag)}>It is this one<span class="unseen">: log ${row.tag}</span></button>
      <a class="button button-quiet" href=${link('log', { log: row.id })}>Its page<span class="unseen"> (log ${row.tag})</span></a></p>`}
  </li>`;
}

/** @param {View} view */
function retag(view) {
  return html`<form class="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
    ${text({ name: 'tag', label: 'Tag on its new label', value: view.tag, hint: `The old one again, or a new one; ${view.next_tag} is free.`, wrong: wrongAt(view.wrong, 'tag'), onInput: (value) => { view.tag = value; } })}
    <p class="acts"><button type="submit" class="button button-main" id="retag" ?disabled=${view.busy}>It carries this tag</button></p>
  </form>`;
}

export const on = {
  back: () => back(link('yard')),

  /**
   * @param {View} view
   * @param {keyof View['typed']} field
   * @param {string} value
   */
  async seen(view, field, value) {
    view.typed[field] = value;
    view.wrong = null;
    const thick = readCm(view.typed.thick);
    if (!thick.ok) {
      view.wrong = { field: 'thick_mm', text: thick.why };
      return redraw();
    }
    const mine = ++view.asked;
    try {
      const found = await call('lost_tag_find', asked(view.typed));
      if (mine !== view.asked) return undefined;
      Object.assign(view, found);
      readdress(view, link('lost-tag', Object.fromEntries(Object.entries(view.typed).filter(([, held]) => held))));
    } catch (error) {
      if (mine === view.asked) view.wrong = { field: 'thick_mm', text: inOneText(refused(error)) };
    }
    return redraw();
  },

  /**
   * @param {View} view
   * @param {string} log
   * @param {string} tag
   */
  choose(view, log, tag) {
    Object.assign(view, { chosen: log, tag, wrong: null, request: newRequest() });
    redraw();
    document.getElementById('tag')?.focus();
  },

  /**
   * The same tag again on a new label changes nothing in the register.
   * @param {Event} event
   * @param {View} view
   */
  async save(event, view) {
    event.preventDefault();
    const log = view.chosen;
    if (view.busy || log === null) return;
    const now = view.candidates.find(({ row }) => row.id === log)?.row.tag;
    if (view.tag.trim() === now) return void go(link('log', { log }));
    view.busy = true;
    redraw();
    try {
      await write('log_retag', { log, tag: view.tag, request: view.request });
      await go(link('log', { log }));
    } catch (error) {
      const why = refused(error);
      if (why.field === 'tag') showWrong(view, { field: 'tag', text: inOneText(why) });
      else tellTrouble(error);
    } finally {
      view.busy = false;
      redraw();
    }
  },
};
