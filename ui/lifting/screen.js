// Whether a log can be lifted: the revised NIOSH lifting equation, asked as one would stand at the tank.
// It never calls a lift safe. Invariant: what the equation does not cover is said beside its answer.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { chips, text } from '../components/field.js';
import { head, trouble } from '../components/frame.js';
import { whereFrom } from '../components/where-from.js';
import { showWrong, wrongAt } from '../flow/form.js';
import { back, redraw } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { cm, figure, lengthUnit, logWeight, logWeightNumber, logWeightUnit } from '../lib/format.js';
import { readCm, readCount, readLogWeight } from '../lib/numbers.js';
import { link } from '../lib/router.js';

/** @import {Grip, LiftView, Spell} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{weight: string, h: string, from: string, to: string, turn: string, lifts: string, work: string, spell: Spell, grip: Grip}} Typed */
/** @typedef {{log: string, answer: LiftView, typed: Typed, wrong: Wrong | null}} View */

export const topics = /** @type {string[]} */ ([]);
export const title = () => 'Can I lift it?';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  /** @type {Typed} */
  const typed = { weight: '', h: cm(400), from: cm(150), to: cm(750), turn: '30', lifts: '2', work: '15', spell: 'short', grip: 'poor' };
  const answer = await call('lift_screen', asked(log, typed).request);
  return { log, answer, typed: { ...typed, weight: answer.grams === null ? '' : logWeightNumber(answer.grams) }, wrong: null };
}

/**
 * @param {string} log
 * @param {Typed} typed
 */
function asked(log, typed) {
  const [weight, h, from, to] = [readLogWeight(typed.weight), readCm(typed.h), readCm(typed.from), readCm(typed.to)];
  const [turn, lifts, work] = [readCount(typed.turn, 'degrees'), readCount(typed.lifts, 'lifts'), readCount(typed.work, 'minutes')];
  const wrong = [['grams', weight], ['h_mm', h], ['from_mm', from], ['to_mm', to], ['turn_deg', turn], ['lifts_tenths', lifts], ['work_min', work]].find(([, r]) => !(/** @type {any} */ (r).ok));
  const value = (/** @type {import('../lib/numbers.js').Reading} */ r) => (r.ok ? r.value ?? 0 : 0);
  const request = {
    log, grams: weight.ok ? weight.value : null, h_mm: value(h), from_mm: value(from), to_mm: value(to), turn_deg: value(turn), lifts_tenths: value(lifts) * 10,
    work_min: value(work), spell: typed.spell, grip: typed.grip,
  };
  return { request, wrong: wrong ? { field: String(wrong[0]), text: /** @type {any} */ (wrong[1]).why } : null };
}

/** @param {View} view */
export function render(view) {
  const { typed, wrong, answer } = view;
  const set = (/** @type {keyof Typed} */ field) => (/** @type {any} */ value) => void on.typed(view, field, value);
  return html`${head('Can I lift it?', { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${trouble(wrong && wrong.field === null ? wrong.text : '')}
    ${said(answer)}
    <section class="sheet group" aria-label="How it is lifted">
      ${text({ name: 'grams', label: answer.tag ? `Log ${answer.tag}` : 'Weight', unit: logWeightUnit(), value: typed.weight, keys: 'decimal', hint: answer.grams_are === 'weighed' ? 'Its newest weight.' : answer.grams_are === 'about' ? 'About, by size and wood. Soaked it is heavier.' : undefined, wrong: wrongAt(wrong, 'grams'), onInput: set('weight') })}
      <div class="two">
        ${text({ name: 'h_mm', label: 'Hands in front of the ankles', unit: lengthUnit(), value: typed.h, keys: 'decimal', wrong: wrongAt(wrong, 'h_mm'), onInput: set('h') })}
        ${text({ name: 'turn_deg', label: 'Body turned by', unit: 'degrees', value: typed.turn, keys: 'numeric', wrong: wrongAt(wrong, 'turn_deg'), onInput: set('turn') })}
        ${text({ name: 'from_mm', label: 'Hands at the start, above the ground', unit: lengthUnit(), value: typed.from, keys: 'decimal', wrong: wrongAt(wrong, 'from_mm'), onInput: set('from') })}
        ${text({ name: 'to_mm', label: 'Hands at the end', unit: lengthUnit(), value: typed.to, keys: 'decimal', wrong: wrongAt(wrong, 'to_mm'), onInput: set('to') })}
        ${text({ name: 'lifts_tenths', label: 'Lifts a minute', value: typed.lifts, keys: 'numeric', wrong: wrongAt(wrong, 'lifts_tenths'), onInput: set('lifts') })}
        ${text({ name: 'work_min', label: 'Minutes of lifting in 15', value: typed.work, keys: 'numeric', hint: `Counts as ${figure(answer.per_min)} a minute.`, wrong: wrongAt(wrong, 'work_min'), onInput: set('work') })}
      </div>
      ${chips({ name: 'spell', legend: 'For how long', options: /** @type {{value: Spell, label: string}[]} */ ([{ value: 'short', label: 'an hour' }, { value: 'moderate', label: 'two hours' }, { value: 'long', label: 'eight hours' }]), value: typed.spell, onPick: set('spell') })}
      ${chips({ name: 'grip', legend: 'Grip', options: /** @type {{value: Grip, label: string, hint: string}[]} */ ([{ value: 'poor', label: 'poor', hint: 'round, wet' }, { value: 'fair', label: 'fair', hint: 'fingers bend round' }, { value: 'good', label: 'good', hint: 'handles' }]), value: typed.grip, onPick: set('grip') })}
    </section>`;
}

/** @param {LiftView} answer */
function said({ screened, grams }) {
  if (screened === null || grams === null) return html`<section class="sheet"><p id="lift-answer">Neither its weight nor its size and wood are known. Type the weight.</p></section>`;
  const { index, limit_g: limit } = screened;
  const words = index === null ? 'Not at all like this: the equation allows no weight.' : index <= 1 ? 'Within what the equation recommends for most healthy grown people.' : index <= 3 ? 'More than the equation recommends: lift with two, use a barrow or a hoist, or stand closer.' : 'Far more than the equation recommends: not by hand.';
  return html`<section class="sheet" aria-live="polite">
    <p id="lift-answer"><strong>${words}</strong></p>
    <p>${logWeight(grams)}; recommended limit here ${logWeight(limit)}${index === null ? nothing : html`, so ${figure(index)} times the limit`}.</p>
    <p class="mind">It does not cover carrying, one hand, kneeling, slippery ground, or what one back bears. A wet log slips. Ask a doctor or your local safety office if in doubt.</p>
    ${whereFrom(screened.from)}
  </section>`;
}

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.log })),

  /**
   * @template {keyof Typed} K
   * @param {View} view
   * @param {K} field
   * @param {Typed[K]} value
   */
  async typed(view, field, value) {
    if (view.typed[field] === value) return;
    view.typed[field] = value;
    const { request, wrong } = asked(view.log, view.typed);
    if (wrong) {
      view.wrong = wrong;
      return redraw();
    }
    try {
      view.answer = await call('lift_screen', request);
      view.wrong = null;
      redraw();
    } catch (error) {
      const why = refused(error);
      showWrong(view, { field: explain(why).field, text: inOneText(why) });
    }
  },
};
