// What every form shares: saving once, keeping the draft safe around it, and showing what was refused at its field.
// It never knows which fields a form has. Invariant: a refused form keeps every letter as typed.

import { refused } from '../api/call.js';
import { explain, inOneText } from '../lib/explain.js';
import { redraw, write } from './onshow.js';

/** @import {Commands, Done} from '../api/types.js' */
/** @import {Draft} from './draft.js' */

/** @typedef {{field: string | null, text: string}} Wrong */
/** @typedef {{busy: boolean, wrong: Wrong | null, draft: Draft | null}} FormView */

/** @typedef {{kind: 'done', done: Done} | {kind: 'refused'} | {kind: 'busy'}} Outcome */

/**
 * @template {keyof Commands} N
 * @param {FormView} view
 * @param {N} name
 * @param {Commands[N]['request']} request
 * @returns {Promise<Outcome>}
 */
export async function save(view, name, request) {
  if (view.busy) return { kind: 'busy' };
  view.busy = true;
  view.wrong = null;
  redraw();
  await view.draft?.pause();
  try {
    const done = await write(name, request);
    view.draft?.stop();
    return { kind: 'done', done };
  } catch (error) {
    const known = refused(error);
    view.busy = false;
    view.draft?.note();
    showWrong(view, { field: explain(known).field, text: inOneText(known) });
    return { kind: 'refused' };
  }
}

/**
 * @param {{wrong: Wrong | null}} view
 * @param {Wrong} wrong
 */
export function showWrong(view, wrong) {
  view.wrong = wrong;
  redraw();
  const place = wrong.field ? document.querySelector(`[name="${wrong.field}"], [data-field="${wrong.field}"] input, [data-field="${wrong.field}"] select`) : null;
  const target = place ?? document.querySelector('.trouble');
  if (target instanceof HTMLElement) {
    target.focus();
    target.scrollIntoView({ block: 'center' });
  }
}

/**
 * @param {Wrong | null} wrong
 * @param {string} field
 * @returns {string} empty when this field is right
 */
export function wrongAt(wrong, field) {
  return wrong?.field === field ? wrong.text : '';
}
