// The groups of the picking form.
// They never read numbers. Invariant: an empty weight is said as "not weighed" while typing, not after.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, lines, text } from '../components/field.js';
import { roughDate } from '../components/rough-date.js';
import { wrongAt } from '../flow/form.js';
import { weightUnit } from '../lib/format.js';
import { BY } from '../lib/words.js';

/** @import {View} from './screen.js' */
/** @import {Typed} from './typed.js' */

/** @typedef {{typed: (view: View) => void}} On */

/**
 * @template {keyof Typed} K
 * @param {View} view
 * @param {On} on
 * @param {K} field
 */
function setter(view, on, field) {
  return (/** @type {Typed[K]} */ value) => {
    view.typed[field] = value;
    on.typed(view);
  };
}

export function caution() {
  return html`<p class="mind" id="caution">Eat only what you planted and are sure of: a deadly look-alike grows on wood too. Cook it right through.</p>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function amount(view, on) {
  const { typed, wrong } = view;
  const hint = typed.grams.trim() === '' ? 'Empty: kept as not weighed.' : 'Fresh weight.';
  return html`<section class="sheet group" aria-label="How much">
    <div class="two">
      ${text({ name: 'grams', label: 'Weight', unit: weightUnit(), value: typed.grams, keys: 'decimal', hint, wrong: wrongAt(wrong, 'grams'), onInput: setter(view, on, 'grams') })}
      ${text({ name: 'caps', label: 'Caps', value: typed.caps, keys: 'numeric', hint: typed.caps.trim() === '' ? 'Empty: kept as not counted.' : 'How many.', wrong: wrongAt(wrong, 'caps'), onInput: setter(view, on, 'caps') })}
    </div>
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function damage(view, on) {
  const { typed, wrong, form } = view;
  /** @type {{value: Typed['by'], label: string}[]} */
  const by = [{ value: '', label: 'not known' }, ...form.by.map((b) => ({ value: b, label: BY[b] }))];
  return html`<section class="sheet group" aria-label="Damage">
    ${text({ name: 'damaged_pct', label: 'Damaged', unit: '% of the picking', value: typed.damaged, keys: 'numeric', hint: typed.damaged.trim() === '' ? 'Empty: kept as not known. 0 is none.' : undefined, wrong: wrongAt(wrong, 'damaged_pct'), onInput: setter(view, on, 'damaged') })}
    ${/[1-9]/.test(typed.damaged) || typed.by ? chips({ name: 'by', legend: 'By what', options: by, value: typed.by, wrong: wrongAt(wrong, 'by'), onPick: setter(view, on, 'by') }) : nothing}
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function day(view, on) {
  const { typed, wrong } = view;
  const wrongDay = wrongAt(wrong, 'day');
  /** @type {{value: Typed['when'], label: string}[]} */
  const days = [{ value: 'today', label: 'now' }, { value: 'last_night', label: 'last night' }, { value: 'yesterday', label: 'yesterday' }, { value: 'other', label: 'another day' }];
  return html`<section class="sheet group" aria-label="Day and note">
    ${chips({ name: 'when', legend: 'Picked', options: days, value: typed.when, wrong: typed.when === 'other' ? '' : wrongDay, onPick: setter(view, on, 'when') })}
    ${typed.when === 'other' ? roughDate({ name: 'day', legend: 'Which day', parts: typed.day, kinds: ['day'], wrong: wrongDay, onChange: () => on.typed(view) }) : nothing}
    ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: setter(view, on, 'note') })}
  </section>`;
}
