// The printed round sheet: a page to take out with a pencil, and the same page as a grid to type in afterwards.
// It never walks a round. Invariant: an empty line is a log not reached, never a clean one.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips } from '../components/field.js';
import { head, saveBar, trouble } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { Draft, keptDraft } from '../flow/draft.js';
import { save, showWrong } from '../flow/form.js';
import { handOut } from '../flow/hand-out.js';
import { back, redraw, replace, tellTrouble } from '../flow/onshow.js';
import { dayName, dayPlus } from '../lib/format.js';
import { readCount } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { page, paper, rows } from './parts.js';

/** @import {Damage, SheetLine, SheetView} from '../api/types.js' */
/** @import {FormView} from '../flow/form.js' */
/** @typedef {{slugs: string, damage: Damage}} Line */
/** @typedef {{day: string, lines: Record<string, Line>}} Typed */
/** @typedef {FormView & {draft: Draft, shown: SheetView, typed: Typed, request: string}} View */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('form');
export const title = () => 'Round sheet';

const KEY = 'sheet:night';

/** @returns {Promise<View>} */
export async function load() {
  const [shown, kept] = await Promise.all([call('sheet_show', {}), /** @type {Promise<{request: string, typed: Typed} | null>} */ (keptDraft(KEY))]);
  /** @type {Typed} */
  const typed = { day: shown.evening, lines: {}, ...kept?.typed };
  const request = kept?.request ?? newRequest();
  const draft = new Draft(KEY, () => ({ about: '', request, typed }));
  return { shown, typed, request, busy: false, wrong: null, draft };
}

/** @param {View} view */
export async function leave(view) {
  view.draft.stop();
  await view.draft.flush();
}

/** @param {View} view */
export function render(view) {
  const { evening, today } = view.shown;
  const days = [evening, dayPlus(evening, -1), dayPlus(evening, -2)].map((value) => ({ value, label: dayName(value, today) }));
  return html`${head('Round sheet', { back: { label: 'Back, keeping what is typed', onBack: on.back } })}
    ${trouble(view.wrong?.text ?? '')}
    <p class="no-print acts"><button type="button" class="button" id="print" @click=${() => on.paper(view)}>${icon('down')} As a PDF, to print</button></p>
    ${page(view.shown)}
    <form class="form no-print" id="form" novalidate @submit=${(/** @type {Event} */ e) => on.save(e, view)}>
      <section class="sheet group" aria-labelledby="typed-title">
        <h2 id="typed-title">Type it in</h2>
        ${chips({ name: 'day', legend: 'Evening', options: days, value: view.typed.day, onPick: (day) => on.typed(view, { day }) })}
        ${rows(view, on)}
        <p class="acts"><button type="button" class="button" id="others-clean" @click=${() => on.othersClean(view)}>All others clean</button></p>
      </section>
    </form>`;
}

/** @param {View} view */
export const foot = (view) => saveBar('Save the round', view.busy);

export const on = {
  back: () => back(link('rounds')),

  /** @param {View} view */
  async paper(view) {
    try {
      const file = await call('pdf_make', { name: `round-sheet-${view.shown.evening}`, parts: paper(view.shown) });
      handOut(file.name, file.base64);
    } catch (error) {
      tellTrouble(error);
    }
  },

  /** @param {View} view @param {Partial<Typed>} words */
  typed(view, words) {
    Object.assign(view.typed, words);
    view.draft.note();
    redraw();
  },

  /** @param {View} view @param {string} log @param {Partial<Line>} words */
  line(view, log, words) {
    /** @type {Line} */
    const line = Object.assign({ slugs: '', damage: 'none' }, view.typed.lines[log], words);
    on.typed(view, { lines: { ...view.typed.lines, [log]: line } });
  },

  /** @param {View} view */
  othersClean(view) {
    for (const { log } of view.shown.stops) if ((view.typed.lines[log.id]?.slugs ?? '') === '') on.line(view, log.id, { slugs: '0' });
  },

  /** @param {Event} event @param {View} view */
  async save(event, view) {
    event.preventDefault();
    /** @type {SheetLine[]} */
    const lines = [];
    for (const { log } of view.shown.stops) {
      const line = view.typed.lines[log.id];
      if (!line || (line.slugs.trim() === '' && line.damage === 'none')) continue;
      const read = readCount(line.slugs, 'slugs');
      if (!read.ok) return showWrong(view, { field: `slugs-${log.id}`, text: `Log ${log.tag}: ${read.why}` });
      lines.push({ log: log.id, how: 'seen', slugs: read.value ?? 0, damage: line.damage });
    }
    const saved = await save(view, 'round_sheet', { day: view.typed.day, lines, request: view.request, draft: KEY });
    if (saved.kind === 'done') void replace(link('round', { round: saved.done.said.round }));
  },
};
